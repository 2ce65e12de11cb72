/** The kinds of bench sheet: what is read, cut or checked by beside the track, in the order of the work. */
export const benchSheetNames = ['room', 'risers', 'roadbed-cuts', 'rail-cuts', 'filing', 'gauge-sticks', 'inspection', 'standards'] as const

export type BenchSheetName = (typeof benchSheetNames)[number]
