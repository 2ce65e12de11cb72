/** Exact since 1959. */
export const MM_PER_INCH = 25.4
export const MM_PER_FOOT = 304.8
