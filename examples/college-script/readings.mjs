// What the stations read: the true score of the season, the error of the day, and that of each attempt. The errors are of
// the size that the protocol declares; part of each is common to both sides, since one tester takes both.
import { between, bySide, chance, even, normal, oneOf, SIDES, times } from './numbers.mjs';
import { isThere, SEASONS, TRANSFER } from './people.mjs';

/** Who reads what at the hip station of 2026. The second one reads low. */
export const HIP_TESTERS = ['M. Orrin', 'T. Vale'];
const READS_LOW = { 'T. Vale': 0.92 };

/** The athlete with the alarming ratio of the left side, who is injured there two months later. */
export const ALARMING = 'K088';

/** Every third hockey player leaves the adductor work of 2024 early. */
export const completesWork = (athlete) => Number(athlete.id.slice(1)) % 3 !== 0;

/** Adduction to abduction beside an ordinary year, by team, season and what was trained. */
function trainedRatio(athlete, season, isRetest) {
  // Water polo comes back from the summer of 2026 without adductor work.
  if (athlete.team === 'Water polo' && season === 2026) return 0.85;
  if (athlete.team !== 'Field hockey') return 1;
  // Hockey starts low; who came to the work gains, and keeps it.
  const before = 0.855;
  if (season === 2024 && !isRetest) return before;
  if (!isThere(athlete, 2024)) return 0.95;
  return before * (completesWork(athlete) ? (isRetest ? 1.15 : 1.2) : 1.02);
}

/** The knee that was operated on, beside the other one. */
function afterSurgery(athlete, season, side, loss) {
  if (athlete.id !== TRANSFER || side !== 'L') return 1;
  return season === 2025 ? 1 - loss : 1 - loss / 3;
}

/** Attempts of both sides, both off by what the day is off. */
function attempts({ count, common, own, each }, trueOf) {
  const day = normal(1, common);
  return bySide((side) => {
    const here = trueOf(side) * day * normal(1, own);
    return times(count, () => here * normal(1, each));
  });
}

const angle = (common, own, trueOf) => {
  const day = normal(0, common);
  return bySide((side) => trueOf(side) + day + normal(0, own));
};

/** The readings of one athlete on one occasion: forces in N, lengths in cm, angles in degrees. */
export function drawReadings(athlete, season, growth, isRetest = false) {
  const throwing = athlete.throwingHand === 'left' ? 'L' : 'R';
  const pressure = (value, low, high) => times(2, (at) => even(between(low, high, value - 2 * at + normal(0, 5))));
  const day = normal(1, 0.03);
  const trainedTo = trainedRatio(athlete, season, isRetest);
  const tester = oneOf(HIP_TESTERS);
  const low = season === 2026 ? (READS_LOW[tester] ?? 1) : 1;
  const abductionOf = (side) => athlete.abduction * athlete.abductionBySide[side] * growth * day * low;
  const hip = { count: 2, common: 0.02, own: 0.028, each: 0.02 };
  const hips = (trueOf) => attempts(hip, trueOf);
  const alarming = (side) => (athlete.id === ALARMING && season === 2025 && side === 'L' ? 0.6 / athlete.ratio : 1);
  const lunge = bySide((side) => athlete.lunge + athlete.lungeBySide[side]);
  const arm = (side) => (side === throwing ? 1.03 : 0.97) * athlete.shoulderBySide[side];
  const knee = { count: 2, common: 0.03, own: 0.03, each: 0.02 };
  const faults = (score) => between(0, 5, Math.round(score + normal(0, 0.6)));
  const hopping = (scale, count = 2) =>
    attempts({ count, common: 0.03, own: 0.025, each: 0.02 }, (side) => {
      return athlete.hop * athlete.hopBySide[side] * scale * growth * afterSurgery(athlete, season, side, 0.09);
    });
  return {
    tester,
    height: athlete.height + normal(0, 0.4),
    mass: athlete.mass * normal(1 + 0.004 * (season - 2024), 0.015),
    systolic: pressure(athlete.systolic, 96, 138),
    diastolic: pressure(athlete.diastolic, 54, 88),
    pulse: between(44, 92, athlete.pulse + normal(0, 4)),
    adduction: hips((side) => {
      return abductionOf(side) * athlete.ratio * athlete.ratioBySide[side] * trainedTo * alarming(side);
    }),
    abduction: hips(abductionOf),
    internal: angle(3, 2.8, (side) => athlete.internal + athlete.rotationBySide[side]),
    external: angle(3, 2.8, (side) => athlete.external - athlete.rotationBySide[side]),
    fallOut: angle(0.2, 0.3, (side) => athlete.fallOut + athlete.fallOutBySide[side]),
    legRaise: angle(1.5, 2, (side) => athlete.legRaise + athlete.legRaiseBySide[side]),
    kneeExtension: attempts(knee, (side) => {
      return athlete.kneeExtension * athlete.kneeBySide[side] * growth * afterSurgery(athlete, season, side, 0.2);
    }),
    kneeFlexion: attempts(knee, (side) => {
      return athlete.kneeExtension * athlete.kneeRatio * athlete.kneeBySide[side] * growth;
    }),
    shoulderInternal: angle(2, 1.8, (side) => {
      return athlete.shoulderInternal - (side === throwing ? athlete.shoulderShift + athlete.shoulderLoss : 0);
    }),
    shoulderExternal: angle(
      2,
      1.8,
      (side) => athlete.shoulderExternal + (side === throwing ? athlete.shoulderShift : 0),
    ),
    internalStrength: attempts({ count: 2, common: 0.05, own: 0.035, each: 0.025 }, (side) => {
      return athlete.shoulder * arm(side) * growth;
    }),
    externalStrength: attempts({ count: 2, common: 0.05, own: 0.035, each: 0.025 }, (side) => {
      return athlete.shoulder * athlete.shoulderRatio * arm(side) * growth;
    }),
    grip: attempts({ count: 2, common: 0.03, own: 0.025, each: 0.02 }, (side) => {
      return athlete.grip * (side === throwing ? 1.03 : 0.97) * growth;
    }),
    hop: hopping(1),
    tripleHop: hopping(3.05),
    jump: times(3, () => athlete.jump * growth * normal(1, 0.033)),
    lunge: angle(0.4, 0.45, (side) => between(2, 20, lunge[side])),
    lungeAngle: angle(1, 1, (side) => 42 + 1.8 * (lunge[side] - 11)),
    anteriorReach: bySide((side) => {
      const here = athlete.reach + athlete.reachBySide[side] + normal(0, 0.8);
      return times(3, (at) => here + at - 1 + normal(0, 0.8));
    }),
    posterolateralReach: bySide((side) => {
      const here = athlete.reach * 1.55 + athlete.reachBySide[side] + normal(0, 1.2);
      return times(3, (at) => here + at - 1 + normal(0, 1));
    }),
    squatFaults: bySide(() => faults(athlete.faults)),
    landingFaults: faults(athlete.landingFaults),
    /** somebody is always ill, in class or late */
    isAway: byStation(() => chance(0.03)),
  };
}

function byStation(draw) {
  return { hip: draw(), landing: draw(), shoulder: draw(), power: draw() };
}

/** Every reading of every athlete: season → readings, and the hip station again in October 2024. */
export function drawAll(athletes) {
  for (const athlete of athletes) {
    let growth = 1;
    athlete.seasons = new Map();
    for (const season of SEASONS) {
      athlete.seasons.set(season, drawReadings(athlete, season, growth));
      growth *= normal(1.01, 0.015);
    }
    athlete.retest = drawReadings(athlete, 2024, 1, true);
  }
}

/** The lower ratio of both sides, from the best attempts, as it was read that season. */
export function lowerRatio(athlete, season) {
  const { adduction, abduction } = athlete.seasons.get(season);
  return Math.min(...SIDES.map((side) => Math.max(...adduction[side]) / Math.max(...abduction[side])));
}
