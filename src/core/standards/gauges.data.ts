import type { Sourced } from './source.ts'

/** A dimension as its standard gives it: a target with limits, or limits alone. mm on the model. */
export interface GaugeLimit {
  readonly targetMm: number | null
  readonly minMm: number | null
  readonly maxMm: number | null
}

/**
 * A scale with its gauge and the dimensions that guide a wheel through a turnout. mm on the model.
 * gaugeMm, flangewayMm, checkGaugeMm, spanMm, pointsSpreadMm are what track is laid to; `limits` is what may be found.
 */
export interface GaugeRow extends Sourced {
  readonly key: string
  readonly name: string
  readonly ratio: number
  readonly gaugeMm: number
  /** Between the faces of frog and wing rail. */
  readonly flangewayMm: number
  /** Guard rail face to the gauge line of the frog: the controlling dimension. */
  readonly checkGaugeMm: number
  /** Guard rail face to wing rail face; at most the wheels' back to back. */
  readonly spanMm: number | null
  /** Stock rail face to the back of the open point, at most. */
  readonly pointsSpreadMm: number | null
  /** The full-size gauge that this stands for. */
  readonly prototypeGaugeMm: number
  /** Rail code usually laid. [COMMON-PRACTICE] */
  readonly railCode: number
  readonly limits: {
    readonly gauge: GaugeLimit
    readonly checkGauge: GaugeLimit
    readonly span: GaugeLimit
    readonly flangeway: GaugeLimit
    readonly pointsSpread: GaugeLimit
    readonly flangewayDepth: GaugeLimit
  }
}

type Head = readonly [key: string, name: string, ratio: number, prototypeGaugeMm: number, railCode: number]
type Tolerance = readonly [target: number, plus: number, minus: number]
type Range = readonly [min: number | null, max: number | null]

const open: GaugeLimit = { targetMm: null, minMm: null, maxMm: null }
// Thousandths of an inch, as the standards count, to mm; rounded to a nanometre so that .651 in is 16.5354 mm.
const mmOf = (thou: number): number => Math.round(thou * 0.0254 * 1e6) / 1e6
const within = ([target, plus, minus]: Tolerance): GaugeLimit => ({
  targetMm: mmOf(target),
  minMm: mmOf(target - minus),
  maxMm: mmOf(target + plus),
})
const between = ([min, max]: Range, toMm: (v: number) => number): GaugeLimit => ({
  targetMm: null,
  minMm: min === null ? null : toMm(min),
  maxMm: max === null ? null : toMm(max),
})

/** A row of the 2010 edition: thousandths of an inch, each a target with what may be added and taken off. */
function targets(head: Head, g: Tolerance, c: Tolerance, s: Tolerance, f: Tolerance, p: Tolerance, depthMin: number): GaugeRow {
  const [key, name, ratio, prototypeGaugeMm, railCode] = head
  return {
    key,
    name,
    ratio,
    prototypeGaugeMm,
    railCode,
    gaugeMm: mmOf(g[0]),
    checkGaugeMm: mmOf(c[0]),
    spanMm: mmOf(s[0]),
    flangewayMm: mmOf(f[0]),
    pointsSpreadMm: mmOf(p[0]),
    limits: {
      gauge: within(g),
      checkGauge: within(c),
      span: within(s),
      flangeway: within(f),
      pointsSpread: within(p),
      flangewayDepth: between([depthMin, null], mmOf),
    },
    source: 'NMRA-S-3.2-2010',
    clause: 'table, guarded',
    status: 'read',
  }
}

/** A row of limits: laid to the least gauge, the least check gauge, the widest flangeway and span that are allowed. */
function bounds(
  head: Head,
  toMm: (v: number) => number,
  dims: { g: Range; c: Range; s: Range; f: Range; p?: number; h?: number; laidGauge?: number },
  from: Sourced,
): GaugeRow {
  const [key, name, ratio, prototypeGaugeMm, railCode] = head
  return {
    key,
    name,
    ratio,
    prototypeGaugeMm,
    railCode,
    gaugeMm: toMm(dims.laidGauge ?? dims.g[0] ?? NaN),
    checkGaugeMm: toMm(dims.c[0] ?? NaN),
    spanMm: dims.s[1] === null ? null : toMm(dims.s[1]),
    flangewayMm: toMm(dims.f[1] ?? NaN),
    pointsSpreadMm: dims.p === undefined ? null : toMm(dims.p),
    limits: {
      gauge: between(dims.g, toMm),
      checkGauge: between(dims.c, toMm),
      span: between(dims.s, toMm),
      flangeway: between(dims.f, toMm),
      pointsSpread: dims.p === undefined ? open : between([null, dims.p], toMm),
      flangewayDepth: dims.h === undefined ? open : between([dims.h, null], toMm),
    },
    ...from,
  }
}

const same = (v: number): number => v
const old: Sourced = { source: 'NMRA-S-3.2-old', clause: 'table', status: 'read' }
const proto: Sourced = { source: 'NMRA-S-3.1', clause: 'table', status: 'read' }
const fine: Sourced = { source: 'NMRA-RP-3', clause: 'table', status: 'read' }
const memory = (source: string, clause: string): Sourced => ({ source, clause, status: 'from-memory' })

const STANDARD = 1435
const METRE = 1000
const N3 = 914.4
const N30 = 762
const N2 = 609.6

// NEM 110 gives one row per gauge; scales that share a gauge share its row. C min/max, S min/max, F min/max, H min.
const nem65 = { g: [6.5, 6.7], c: [5.9, 6.0], s: [5.1, 5.2], f: [0.7, 0.75], h: 0.6 } as const
const nem9 = { g: [9, 9.2], c: [8.1, 8.2], s: [7.2, 7.3], f: [0.8, 0.9], h: 0.9 } as const
const nem12 = { g: [12, 12.2], c: [11, 11.1], s: [10, 10.1], f: [0.9, 1.0], h: 1.0 } as const
const nem110: Sourced = { source: 'NEM-110', clause: 'dimension table', status: 'read' }
// The gauge tool of supplement 4 (2002 series) is the row of 16.5 mm that was read; F is given as a least width only.
const nem165 = { g: [16.5, 16.8], c: [15.2, null], s: [null, 14.1], f: [1.1, 1.1], h: 1.2 } as const
const nem310: Sourced = { source: 'NEM-310', clause: 'supplement 4', status: 'read' }

const wheelHo = [
  [651, 10, 2],
  [607, 7, 2],
  [557, 2, 2],
  [48, 2, 13],
  [588, 2, 4],
] as const

/** Scales and gauges, small to large; narrow gauges follow the scale they belong to. */
export const gaugeRows: readonly GaugeRow[] = [
  bounds(['Z', 'Z, 1:220', 220, STANDARD, 40], same, nem65, nem110),
  bounds(['N', 'N, 1:160', 160, STANDARD, 55], same, nem9, nem110),
  bounds(
    ['N-fine', 'N fine, 1:160', 160, STANDARD, 40],
    mmOf,
    { g: [353, 366], c: [332, null], s: [null, 313], f: [null, 25], h: 20, p: 322 },
    fine,
  ),
  bounds(
    ['2mm', '2 mm to the foot, 9.42 mm', 152.4, STANDARD, 40],
    same,
    { g: [9.42, 9.42], c: [8.91, null], s: [null, 8.41], f: [0.5, 0.5] },
    memory('COMMON-PRACTICE', '2 mm fine scale'),
  ),
  bounds(['Nm', 'N, metre gauge', 160, METRE, 40], same, nem65, nem110),
  bounds(['Nn3', 'N, 3 ft gauge', 160, N3, 40], same, nem65, nem110),
  bounds(['TT', 'TT, 1:120', 120, STANDARD, 55], same, nem12, nem110),
  bounds(
    ['TT-fine', 'TT fine, 1:120', 120, STANDARD, 55],
    mmOf,
    { g: [471, 485], c: [441, null], s: [null, 414], f: [null, 33], h: 22, p: 430 },
    fine,
  ),
  bounds(['TTm', 'TT, metre gauge', 120, METRE, 55], same, nem9, nem110),
  bounds(['TTe', 'TT, 750 mm gauge', 120, 750, 40], same, nem65, nem110),

  targets(['HO', 'HO, 1:87.1', 87.1, STANDARD, 83], ...wheelHo, 25),
  bounds(
    ['HO-fine', 'HO fine, 1:87.1', 87.1, STANDARD, 70],
    mmOf,
    { g: [649, 665], c: [613, null], s: [null, 580], f: [null, 40], h: 26, p: 600 },
    fine,
  ),
  bounds(
    ['P87', 'Proto:87, 1:87.1', 87.1, STANDARD, 70],
    mmOf,
    { g: [649, 656], c: [625, null], s: [null, 604], f: [22, 23] },
    { source: 'PROTO-87', clause: 'track table', status: 'read' },
  ),
  bounds(['H0', 'H0, 1:87', 87, STANDARD, 83], same, nem165, nem310),
  {
    ...targets(['HOn3', 'HO, 3 ft gauge', 87.1, N3, 70], [415, 8, 2], [379, 4, 2], [339, 2, 2], [38, 2, 8], [363, 2, 4], 23),
    clause: 'gauge as printed; the other columns are those of Sn2, which has the same gauge',
    status: 'derived',
  },
  bounds(['HOn30', 'HO, 30 in gauge', 87.1, N30, 55], same, nem9, { ...nem110, status: 'derived' }),
  bounds(
    ['HOn2', 'HO, 2 ft gauge', 87.1, N2, 40],
    mmOf,
    { g: [276, 290], c: [246, null], s: [null, 219], f: [null, 33], h: 22, p: 235 },
    old,
  ),
  bounds(['H0m', 'H0, metre gauge', 87, METRE, 70], same, nem12, nem110),
  bounds(['H0e', 'H0, 750 mm gauge', 87, 750, 55], same, nem9, nem110),
  bounds(['H0i', 'H0, 600 mm gauge', 87, 600, 55], same, nem65, nem110),

  bounds(
    ['OO', 'OO, 1:76.2, 16.5 mm', 76.2, STANDARD, 75],
    same,
    { g: [16.5, 16.8], c: [15.2, null], s: [null, 14.1], f: [null, 1.3] },
    memory('COMMON-PRACTICE', '4 mm scale'),
  ),
  targets(['OO-19', 'OO, 1:76.2, 19.1 mm', 76.2, STANDARD, 83], [752, 9, 2], [707, 7, 2], [657, 2, 2], [48, 2, 12], [688, 2, 4], 25),
  bounds(
    ['EM', 'EM, 1:76.2, 18.2 mm', 76.2, STANDARD, 75],
    same,
    { g: [18.2, 18.3], c: [17.2, null], s: [null, 16.2], f: [null, 1.0] },
    { source: 'COMMON-PRACTICE', clause: '4 mm scale: flangeway 1.0, check gauge 17.2', status: 'from-memory' },
  ),
  bounds(
    ['P4', '4 mm to the foot, 18.83 mm', 76.2, STANDARD, 75],
    same,
    { g: [18.83, 18.9], c: [18.15, null], s: [null, 17.47], f: [0.6, 0.68] },
    memory('COMMON-PRACTICE', '4 mm scale'),
  ),
  bounds(['OOn3', 'OO, 3 ft gauge, 12 mm', 76.2, N3, 70], same, nem12, { ...nem110, status: 'derived' }),
  bounds(['009', 'OO, 2 ft 3 in gauge, 9 mm', 76.2, 685.8, 55], same, nem9, { ...nem110, status: 'derived' }),

  targets(['S', 'S, 1:64', 64, STANDARD, 100], [885, 10, 2], [841, 7, 2], [791, 2, 2], [48, 2, 13], [822, 2, 4], 25),
  bounds(
    ['S-fine', 'S fine, 1:64', 64, STANDARD, 83],
    mmOf,
    { g: [883, 905], c: [839, null], s: [null, 799], f: [null, 53], h: 30, p: 819 },
    fine,
  ),
  bounds(
    ['S-NEM', 'S, 1:60, 22.5 mm', 60, STANDARD, 100],
    same,
    { g: [22.5, 22.8], c: [21.3, null], s: [null, 20.3], f: [1.2, 1.3] },
    memory('NEM-110', 'row of 22.5 mm; scale and gauge by NEM 010'),
  ),
  targets(['Sn3', 'S, 3 ft gauge', 64, N3, 70], [565, 10, 2], [521, 7, 2], [471, 2, 2], [48, 2, 13], [502, 2, 4], 25),
  targets(['Sn2', 'S, 2 ft gauge', 64, N2, 55], [415, 8, 2], [379, 4, 2], [339, 2, 2], [38, 2, 8], [363, 2, 4], 23),

  targets(['O', 'O, 1:48', 48, STANDARD, 148], [1252, 12, 2], [1181, 13, 2], [1102, 2, 2], [77, 2, 21], [1156, 2, 4], 45),
  bounds(
    ['P48', 'Proto:48, 1:48', 48, STANDARD, 125],
    mmOf,
    { g: [1177, 1203], c: [1134, 1138], s: [1087, 1099], f: [36, 39], h: 26, p: 1078 },
    proto,
  ),
  targets(['On3', 'O, 3 ft gauge', 48, N3, 83], [752, 12, 2], [707, 10, 2], [654, 2, 2], [51, 2, 18], [685, 2, 4], 26),
  bounds(
    ['P48n3', 'Proto:48, 3 ft gauge', 48, N3, 83],
    mmOf,
    { g: [750, 776], c: [707, 711], s: [660, 672], f: [36, 39], h: 26, p: 651 },
    proto,
  ),
  targets(['On30', 'O, 30 in gauge', 48, N30, 83], ...wheelHo, 25),
  targets(['On2', 'O, 2 ft gauge', 48, N2, 83], [502, 9, 2], [457, 7, 2], [407, 2, 2], [48, 2, 12], [438, 2, 4], 25),
  bounds(
    ['0', '0, 1:45, 32 mm', 45, STANDARD, 148],
    same,
    // The widest flangeway is what the other two leave, as in the rows that were read: a narrower one would ask for more span than there is.
    { g: [32, 32.3], c: [30, null], s: [null, 28], f: [1.6, 2] },
    memory('NEM-110', 'row of 32 mm; scale and gauge by NEM 010'),
  ),
  bounds(
    ['0m', '0, metre gauge, 22.5 mm', 45, METRE, 100],
    same,
    { g: [22.5, 22.8], c: [21.3, null], s: [null, 20.3], f: [1.2, 1.3] },
    memory('NEM-110', 'row of 22.5 mm; scale and gauge by NEM 010'),
  ),
  bounds(['0e', '0, 750 mm gauge, 16.5 mm', 45, 750, 100], same, nem165, nem310),
  bounds(
    ['0-7mm', '7 mm to the foot, 32 mm', 304.8 / 7, STANDARD, 124],
    same,
    { g: [32, 32.2], c: [30.25, null], s: [null, 28.5], f: [1.5, 1.75] },
    memory('COMMON-PRACTICE', '7 mm scale'),
  ),
  bounds(
    ['S7', '7 mm to the foot, 33 mm', 304.8 / 7, STANDARD, 124],
    same,
    { g: [33, 33.1], c: [31.97, null], s: [null, 30.94], f: [1.0, 1.03] },
    memory('COMMON-PRACTICE', '7 mm scale, to scale'),
  ),
  bounds(['O-16.5', '7 mm to the foot, 16.5 mm', 304.8 / 7, 685.8, 100], same, nem165, { ...nem310, status: 'derived' }),

  bounds(
    ['1', '1, 1:32, 45 mm', 32, STANDARD, 200],
    mmOf,
    { g: [1766, 1793], c: [1660, null], s: [null, 1563], f: [null, 106], p: 1634, laidGauge: 45000 / 25.4 },
    old,
  ),
  bounds(
    ['P32', 'Proto:32, 1:32', 32, STANDARD, 200],
    mmOf,
    { g: [1766, 1805], c: [1701, 1707], s: [1630, 1648], f: [55, 59], h: 39, p: 1617 },
    proto,
  ),
  bounds(
    ['1n3', '1, 3 ft gauge', 32, N3, 148],
    mmOf,
    { g: [1125, 1167], c: [1058, null], s: [null, 997], f: [null, 79], h: 47, p: 1037 },
    old,
  ),
  bounds(['Gn15', '1:24, 15 in gauge, 16.5 mm', 24, 381, 100], same, nem165, { ...nem310, status: 'derived' }),
  targets(['Fn3', 'F, 1:20.3, 3 ft gauge', 20.3, N3, 250], [1772, 10, 6], [1652, 10, 4], [1550, 5, 15], [115, 2, 23], [1628, 4, 4], 66),
  bounds(
    ['P20', 'Proto:20.3, 1:20.3', 20.3, STANDARD, 332],
    mmOf,
    { g: [2781, 2842], c: [2679, 2688], s: [2568, 2596], f: [86, 92], h: 62, p: 2547 },
    proto,
  ),
  bounds(
    ['full-size', 'Full size, 1:1', 1, STANDARD, 6625],
    mmOf,
    { g: [56500, 57000], c: [54500, null], s: [null, 53000], f: [null, 1875] },
    memory('COMMON-PRACTICE', 'North American standard gauge; 49 CFR 213.143'),
  ),
]
