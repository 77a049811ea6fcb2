/** Settings of property tests: the same inputs in every run, others with BILAT_SEED in the environment. */
export const SEEDED = { seed: Number(process.env.BILAT_SEED ?? 17) };
