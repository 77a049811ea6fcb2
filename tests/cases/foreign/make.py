#!/usr/bin/env python3
# Made-up screening-day sheets, as three staff members would hand them in, plus
# the registrar's roster export.  Written for and run with Python 3.11.7, standard
# library only.  The seed is fixed and no date comes from the clock, so every run
# writes the same bytes.  All people, names and values are invented.
#
#   PPE_intake_8-15.csv   intake desk: Excel, US (comma, CRLF, UTF-8 with BOM)
#   hip_strength_ROM.csv  hip station: Excel, European laptop (semicolon, decimal
#                         comma, CRLF, Windows-1252), two header lines, numbers only
#   shoulder_jump.csv     shoulder/jump station: comma, LF, UTF-8, names only, team
#                         blocks, a row for each side, the name on the left row only
#   roster_export.csv     registrar: everything quoted, CRLF, UTF-8
#
# The ground truth is in the comment at the end.

import csv
import datetime
import io
import os
import random

HERE = os.path.dirname(os.path.abspath(__file__))
RNG = random.Random(20260817)
DAY = datetime.date(2026, 8, 15)

INTAKE = "PPE_intake_8-15.csv"
HIP = "hip_strength_ROM.csv"
JUMP = "shoulder_jump.csv"
ROSTER = "roster_export.csv"

TEAMS = [("W Soccer", 12), ("M Soccer", 11), ("W VBall", 8), ("Swim", 10)]


# ---------------------------------------------------------------- the athletes

def names(count):
    """Unlike made-up names; no last name and no first name comes twice."""
    start = ["Bre", "Dro", "Fal", "Gru", "Hes", "Jor", "Kel", "Lum", "Mev", "Nar",
             "Orv", "Pel", "Quo", "Rud", "Sko", "Tav", "Ulv", "Vim", "Wex", "Zor"]
    middle = ["", "", "da", "li", "mo", "na", "ru", "ve"]
    end = ["bek", "dran", "fitz", "gard", "kin", "lund", "mott", "nesk", "quist",
           "stad", "tol", "wick"]
    first_start = ["A", "Be", "Ci", "De", "E", "Fe", "Ja", "Ki", "Lo", "Ma", "Ne",
                   "O", "Pe", "Ri", "Sa", "Te", "Vi", "Yo", "Ze"]
    first_end = ["bri", "dell", "fen", "jo", "lko", "mari", "nva", "rrin", "sho",
                 "tix", "vek", "zuli"]
    lasts, firsts = [], []
    while len(lasts) < count:
        word = RNG.choice(start) + RNG.choice(middle) + RNG.choice(end)
        if word not in lasts:
            lasts.append(word)
    while len(firsts) < count:
        word = RNG.choice(first_start) + RNG.choice(first_end)
        if word not in firsts:
            firsts.append(word)
    return list(zip(lasts, firsts))


def athletes():
    people = []
    for team, count in TEAMS:
        for k in range(count):
            if team == "M Soccer":
                sex = "M"
            elif team == "Swim":
                sex = "F" if k < 6 else "M"
            else:
                sex = "F"
            people.append({"team": team, "sex": sex})
    for person, (last, first) in zip(people, names(len(people))):
        person["last"], person["first"] = last, first
        year = RNG.choice(["FR", "FR", "SO", "SO", "JR", "JR", "SR"])
        born = {"FR": 2008, "SO": 2007, "JR": 2006, "SR": 2005}[year]
        person["year"] = year
        person["dob"] = datetime.date(born, RNG.randint(1, 12), RNG.randint(1, 28))
        d = person["dob"]
        person["age"] = DAY.year - d.year - ((DAY.month, DAY.day) < (d.month, d.day))
        male = person["sex"] == "M"
        inches = RNG.randint(68, 75) if male else RNG.randint(62, 70)
        if team_is(person, "W VBall"):
            inches += 3
        person["inches"] = inches
        person["lbs"] = round(inches * inches * RNG.uniform(21.0, 24.5) / 703)
        person["bp"] = (RNG.randint(108, 132) if male else RNG.randint(100, 126),
                        RNG.randint(62, 82))
        person["pulse"] = RNG.randint(52, 84)
        person["hip"] = hip_values(male)
        person["jump"] = jump_values(male, person["team"])
    # The last volleyball player is a walk-on whom the registrar has not entered.
    walk_on = [p for p in people if team_is(p, "W VBall")][-1]
    number = 1001
    for person in people:
        if person is walk_on:
            person["id"] = ""
        else:
            person["id"] = "S%d" % number
            number += 1
    return people


def team_is(person, team):
    return person["team"] == team


def hip_values(male):
    base = RNG.uniform(42.0, 54.0) if male else RNG.uniform(34.5, 46.0)
    values = {}
    for side in "LR":
        abd = base * RNG.uniform(0.97, 1.03)
        add = abd * RNG.uniform(0.94, 1.08)
        values["ABD" + side] = [round(abd + RNG.uniform(-1.0, 1.0), 1) for _ in "12"]
        values["ADD" + side] = [round(add + RNG.uniform(-1.0, 1.0), 1) for _ in "12"]
    rot_in, rot_out = RNG.uniform(30, 42), RNG.uniform(34, 48)
    for side in "LR":
        values["IR" + side] = round(rot_in + RNG.uniform(-3, 3))
        values["ER" + side] = round(rot_out + RNG.uniform(-3, 3))
    return values


def jump_values(male, team):
    hop = RNG.uniform(140, 185) if male else RNG.uniform(108, 148)
    overhead = team in ("W VBall", "Swim")
    rows = {}
    for side in "LR":
        rows[side] = {
            "IR": round(RNG.uniform(46, 62) if overhead else RNG.uniform(54, 70)),
            "ER": round(RNG.uniform(95, 112) if overhead else RNG.uniform(86, 100)),
            "hops": [round(hop * RNG.uniform(0.96, 1.03) + 2 * k) for k in range(3)],
            "sls": RNG.choice([0, 0, 1, 1, 1, 2, 2, 3]),
            "remarks": "",
        }
    return rows


# -------------------------------------------------------------------- writing

def write(name, rows, encoding, end, delimiter=",", quoting=csv.QUOTE_MINIMAL):
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=delimiter, lineterminator=end,
               quoting=quoting).writerows(rows)
    with open(os.path.join(HERE, name), "wb") as handle:
        handle.write(text.getvalue().encode(encoding))


def by_arrival(people):
    """Teams come in their time slots; within one, and a bit across, anyhow."""
    keyed = []
    for slot, (team, _) in enumerate(TEAMS):
        for person in people:
            if team_is(person, team):
                keyed.append((slot + RNG.uniform(0, 1.15), person))
    keyed.sort(key=lambda pair: pair[0])
    return [person for _, person in keyed]


def intake(people, who):
    head = ["Student #", "Name", "Team", "Sex", "Age", "Ht", "Wt (lbs)", "BP",
            "Pluse", "Comments"]                        # the misspelt heading
    blank = [""] * len(head)
    rows = [["Tarrowmere College Sports Med - Preseason PPE Intake - Sat 8/15/2026"]
            + blank[1:], head]
    special = {
        who["bp_once"]: "164/102",
        who["bp_twice"]: "156/98 rpt 152/96",
        who["bp_near1"]: "142/88",
        who["bp_near2"]: "138/92",
        who["bp_near3"]: "146/86",
    }
    comments = {
        who["bp_once"]: "see Dr before practice",
        who["bp_twice"]: "says nervous, rpt after 10 min",
        who["bp_near2"]: "had energy drink",
        who["walk_on"]: "walk-on, no # yet",
        "S1009": "inhaler",
        "S1016": "HR irreg? check again",
        "S1022": "new glasses",
        "S1037": "forgot forms",
    }
    ages, weights, pulses = [], [], []
    for person in by_arrival(people):
        key = person["id"]
        if key == who["absent"]:
            continue                                    # was not there that day
        height = "%d'%d\"" % divmod(person["inches"], 12)
        if key in ("S1005", "S1030"):
            height = height[:-1]                        # left the inch mark off
        pressure = special.get(key, "%d/%d" % person["bp"])
        weight, pulse = person["lbs"], person["pulse"]
        if key == "S1014":
            weight = ""
        if key == "S1025":
            pulse = ""
        if key == "S1033":
            pressure = "NT"
        ages.append(person["age"])
        if weight != "":
            weights.append(weight)
        if pulse != "":
            pulses.append(pulse)
        rows.append([key, "%s, %s" % (person["last"], person["first"]),
                     person["team"], person["sex"], person["age"], height, weight,
                     pressure, pulse, comments.get(key, "")])
    # The formula was dragged across; over text Excel answers #DIV/0!.
    rows.append(["", "AVERAGE", "", "", mean(ages), "#DIV/0!", mean(weights),
                 "#DIV/0!", mean(pulses), ""])
    write(INTAKE, rows, "utf-8-sig", "\r\n")


def mean(values):
    return "%.1f" % (sum(values) / len(values))


def hip(people, who):
    top = ["", "Hip ADD (lb)", "", "", "", "Hip ABD (lb)", "", "", "",
           "Hip IR (\u00b0)", "", "Hip ER (\u00b0)", "", ""]
    head = ["Student No", "L 1", "L 2", "R 1", "R 2", "L 1", "L 2", "R 1", "R 2",
            "L", "R", "L", "R", "Notes"]
    rows = [top, head]
    notes = {
        who["weak"]: "L groin strain last spring",
        who["groin"]: "R groin sore",
        who["walk_on"]: "VB walk-on, tall, no number",
        "S1012": "HHD battery died, redo?",
        "S1029": "NT ABD - hurry, class",
    }
    people = list(people)
    RNG.shuffle(people)
    for person in people:
        key, v = person["id"], person["hip"]
        if key == who["absent"]:
            continue
        if key == who["weak"]:
            v = dict(v, ADDL=[31.0, 31.4], ABDL=[48.2, 47.8],
                     ADDR=[46.4, 47.1], ABDR=[47.5, 48.3])
        add = [comma(x) for x in v["ADDL"] + v["ADDR"]]
        abd = [comma(x) for x in v["ABDL"] + v["ABDR"]]
        rot = [str(v[x]) for x in ("IRL", "IRR", "ERL", "ERR")]
        if key == who["typo"]:
            add[2], add[3] = "43,8", "432"              # for 43,2: no comma typed
            abd[2], abd[3] = "44,1", "43,5"
            add[:2], abd[:2] = ["44", "43,1"], ["43,7", "44,6"]
        if key == who["groin"]:
            add[3] = "pain"
        if key == "S1012":
            abd[3] = ""
        if key == "S1029":
            abd = ["NT", "NT", "NT", "NT"]
        if key == "S1004":
            rot[0] = rot[0] + ",5"
        if key == "S1019":
            rot[2:] = ["", ""]
        if key == "S1035":
            add[1] = ""
        written = key.lower() if key == "S1026" else key
        rows.append([written] + add + abd + rot + [notes.get(key, "")])
    write(HIP, rows, "cp1252", "\r\n", delimiter=";")


def comma(value):
    """As Excel shows an unformatted number: 42,5 but 42 for 42.0."""
    text = "%.1f" % value
    return (text[:-2] if text.endswith(".0") else text).replace(".", ",")


def jump(people, who):
    head = ["Name", "Side", "Sh IR", "Sh ER", "Hop 1 (cm)", "Hop 2 (cm)",
            "Hop 3 (cm)", "SLS faults", "Remarks"]
    rows = [head]
    remarks = {
        (who["hop_pain"], "R"): "R knee pain on landing, stopped",
        ("S1003", "L"): "knee valgus",
        ("S1011", "R"): "trunk lean",
        ("S1021", "L"): "arms swinging, told x2",
        ("S1027", "R"): "hitting shoulder",
        ("S1032", "L"): "clicks, no pain",
        ("S1038", "R"): "heel up",
        (who["walk_on"], "L"): "needs ID",
    }
    for team, _ in TEAMS:
        rows.append([team.upper()] + [""] * (len(head) - 1))
        block = [p for p in people if team_is(p, team)]
        RNG.shuffle(block)
        for person in block:
            key = person["id"]
            for side in "LR":
                v = person["jump"][side]
                name = person["first"] + " " + person["last"] if side == "L" else ""
                cells = [v["IR"], v["ER"]] + v["hops"] + [v["sls"]]
                if key == who["absent"]:
                    if side == "L":
                        rows.append([name, "L", "abs"] + [""] * 6)
                    else:
                        rows.append(["", "R"] + [""] * 7)
                    continue
                if key == who["hop_pain"] and side == "R":
                    cells[2:6] = [118, "pain", "NT", 2]
                if key == who["hop_pain"] and side == "L":
                    cells[2:6] = [129, 133, 131, 1]
                if key == "S1013":
                    cells[:2] = ["", ""]
                if key == "S1006" and side == "L":
                    cells[4] = ""
                if key == "S1031" and side == "R":
                    cells[5] = ""
                if key == "S1036":
                    cells[2:5] = ["NT", "NT", "NT"]
                rows.append([name, side] + cells + [remarks.get((key, side), "")])
    write(JUMP, rows, "utf-8", "\n")


def roster(people):
    rows = [["Student ID", "Last", "First", "Sport", "Gender", "DOB", "Year"]]
    for person in sorted(people, key=lambda p: (p["last"], p["first"])):
        if person["id"]:
            rows.append([person["id"], person["last"], person["first"],
                         person["team"], person["sex"],
                         person["dob"].strftime("%m/%d/%Y"), person["year"]])
    write(ROSTER, rows, "utf-8", "\r\n", quoting=csv.QUOTE_ALL)


def main():
    who = {
        "bp_once": "S1017",     # M Soccer
        "bp_twice": "S1034",    # Swim
        "bp_near1": "S1020",
        "bp_near2": "S1015",
        "bp_near3": "S1039",
        "weak": "S1007",        # W Soccer
        "hop_pain": "S1010",    # W Soccer
        "groin": "S1023",       # M Soccer
        "typo": "S1028",        # W VBall
        "absent": "S1018",      # M Soccer
        "walk_on": "",          # W VBall, no number
    }
    people = athletes()
    intake(people, who)
    hip(people, who)
    jump(people, who)
    roster(people)


if __name__ == "__main__":
    main()


# GROUND TRUTH (file:line counts from 1, every physical line)
#
# (a) BP of at least 160/100, or repeated 150/95 - exactly these two:
#       S1017 Narmonesk, Lonva (M Soccer)  164/102            PPE_intake_8-15.csv:22
#       S1034 Quovequist, Kilko (Swim)     156/98 rpt 152/96  PPE_intake_8-15.csv:33
#     Raised but below that, one reading each:
#       S1015 138/92 :17, S1020 142/88 :23, S1039 146/86 :40 (PPE_intake_8-15.csv)
# (b) Clearly weak left adductor - exactly this one:
#       S1007 Tavdran, Ridell (W Soccer)   ADD L 31 / 31,4, ABD L 48,2 / 47,8:
#       ADD:ABD left 0.65, right 0.98      hip_strength_ROM.csv:18
#     Every other side measured has a ratio of at least 0.9.
# (c) Pain in a hop on the right - exactly this one:
#       S1010 Faldran, Lolko (W Soccer)    Hop R 118 / pain / NT
#                                          shoulder_jump.csv:6 (her name is on :5)
#
# Other things put in:
#   pain elsewhere      S1023 ADD R trial 2 "pain"            hip_strength_ROM.csv:6
#   "pain" as a remark  S1032 "clicks, no pain"               shoulder_jump.csv:74
#   mistyped number     S1028 ADD R trial 2 "432" for 43,2    hip_strength_ROM.csv:10
#   misspelt heading    "Pluse" for Pulse                     PPE_intake_8-15.csv:2
#   no number           Quodanesk, Lojo (W VBall walk-on; not in the roster)
#                       PPE_intake_8-15.csv:25, hip_strength_ROM.csv:24 (no name
#                       either), shoulder_jump.csv:57
#   abs                 S1018 Vimdafitz, Visho (M Soccer)     shoulder_jump.csv:32
#                       (on neither of the other two sheets; in the roster)
#   lower-case number   s1026                                 hip_strength_ROM.csv:33
#   NT                  S1033 BP                              PPE_intake_8-15.csv:39
#                       S1029 all ABD                         hip_strength_ROM.csv:19
#                       S1036 all hops                        shoulder_jump.csv:68-69
#   blank cells         S1014 Wt :12, S1025 pulse :29         PPE_intake_8-15.csv
#                       S1012 ABD R 2 :14, S1035 ADD L 2 :31, S1019 ER :35
#                                                             hip_strength_ROM.csv
#                       S1006 Hop 3 L :23, S1013 shoulder :42-43, S1031 SLS R :83
#                                                             shoulder_jump.csv
#   no inch mark        S1005 :11, S1030 :30                  PPE_intake_8-15.csv
#   average row         PPE_intake_8-15.csv:43 (#DIV/0! over the text columns)
#   athletes            41: 40 in the roster (S1001 to S1040) and the walk-on;
#                       40 of them came (all but S1018)
