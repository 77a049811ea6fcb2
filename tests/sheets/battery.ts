/** A small battery of invented measures that touches every kind of quantity a sheet can hold. */
export const BATTERY = `
bilat: 1
name: Test battery
measures:
  hip_add:
    label: Hip adduction strength
    unit: N
    sides: each
    dominance: kicking_foot
    plausible: [10, 1000]
    headings: [hip add, hip adduction, add, adductors]
  hip_abd:
    label: Hip abduction strength
    unit: N
    sides: each
    plausible: [10, 1000]
    headings: [hip abd, abd, abductors]
  grip:
    label: Grip strength
    unit: kgf
    written_in: kgf
    sides: each
    dominance: throwing_hand
    plausible: [1, 150]
    plausible_both: [2, 300]
    headings: [grip, hand grip]
  knee_torque:
    label: Knee extension torque
    unit: N.m
    sides: each
    headings: [knee ext, knee torque]
  hop:
    label: Single-leg hop distance
    unit: cm
    sides: each
    plausible: [1, 350]
    headings: [hop, single hop]
  lunge:
    label: Lunge reach
    unit: cm
    sides: each
    compare: gap
    plausible: [-5, 30]
    headings: [lunge]
  hip_ir:
    label: Hip internal rotation
    unit: deg
    sides: each
    compare: gap
    plausible: [-10, 90]
    headings: [hip ir, hir]
  height:
    label: Standing height
    unit: cm
    sides: none
    plausible: [120, 240]
    headings: [height, ht]
  body_mass:
    label: Body mass
    unit: kg
    sides: none
    plausible: [30, 250]
    headings: [weight, wt, mass]
  sprint:
    label: Sprint time
    unit: s
    sides: none
    better: lower
    plausible: [0.5, 600]
    headings: [sprint, sprint 20]
  systolic:
    label: Systolic pressure
    unit: "mm[Hg]"
    sides: none
    better: lower
    plausible: [60, 260]
    headings: [sbp, bp sys]
  diastolic:
    label: Diastolic pressure
    unit: "mm[Hg]"
    sides: none
    better: lower
    plausible: [30, 160]
    headings: [dbp, bp dia]
  pulse:
    label: Resting pulse
    unit: /min
    sides: none
    better: between
    plausible: [25, 220]
    headings: [pulse, hr]
  squat_faults:
    label: Faults on a squat
    unit: "1"
    sides: none
    better: lower
    compare: none
    levels: [0, 1, 2, 3]
    headings: [squat, squat faults]
  bend:
    label: Side bend
    unit: cm
    sides: each
    headings: [bend]
  reach_a:
    label: Reach forwards
    unit: cm
    sides: each
    headings: [reach]
  reach_b:
    label: Reach sideways
    unit: cm
    sides: each
    headings: [reach]
derived:
  add_abd: { label: Adduction to abduction, ratio: [hip_add, hip_abd] }
compounds:
  blood_pressure: { headings: [bp, blood pressure], parts: [systolic, diastolic], between: "/" }
`;

/** Invented athletes. K014 and K14 differ in a zero only, two are called Kim Moss. */
export const ROSTER = `athlete_id,last_name,first_name,also_known_as,team,sex,kicking_foot,throwing_hand
K001,Reed,Bo,Bobo;B-Reed,Rowing,F,R,R
K002,Ødegård,Zoë,,Rowing;Fencing,F,L,R
K003,Moss,Kim,,Fencing,M,,L
K004,Moss,Kim,Kimmy,Fencing,M,both,L
K005,O'Hara,Lee,,Fencing,F,R,R
K014,Quill,Ada,,Rowing,F,R,R
K14,Dunmore,Ines,,Rowing,F,R,R
`;
