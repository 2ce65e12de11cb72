import { car, drivers, feet, fromMemory } from './sizes.ts'
import type { VehicleRow } from './types.ts'

export const engineRows: readonly VehicleRow[] = [
  fromMemory({
    key: 'diesel-switcher',
    name: 'Diesel switcher',
    overCouplersMm: feet(44, 6),
    heightMm: feet(14, 6),
    weightKg: 112_000,
    frames: [car(feet(42), feet(10), feet(22), feet(8))],
  }),
  fromMemory({
    key: 'diesel-4-axle',
    name: 'Four-axle diesel',
    overCouplersMm: feet(59, 2),
    heightMm: feet(15, 6),
    weightKg: 118_000,
    frames: [car(feet(56, 2), feet(10, 4), feet(34), feet(9))],
  }),
  fromMemory({
    key: 'diesel-6-axle',
    name: 'Six-axle diesel',
    overCouplersMm: feet(68, 10),
    heightMm: feet(15, 8),
    weightKg: 168_000,
    frames: [car(feet(66), feet(10, 4), feet(43, 6), feet(13, 7))],
  }),
  fromMemory({
    key: 'steam-0-6-0t',
    name: 'Small tank engine',
    wheels: '0-6-0T',
    overCouplersMm: feet(29),
    heightMm: feet(12, 6),
    weightKg: 42_000,
    frames: [drivers(feet(11), [-feet(7), feet(8, 6)], [feet(18, 6), feet(8, 6)])],
  }),
  fromMemory({
    key: 'steam-4-4-0',
    name: 'Eight-wheeler',
    wheels: '4-4-0',
    overCouplersMm: feet(58),
    heightMm: feet(14, 6),
    weightKg: 85_000,
    frames: [
      drivers(feet(8, 6), [-feet(6), feet(9, 8)], [feet(8, 6), feet(9)], [feet(20), feet(9, 8)], [feet(25), feet(9)]),
      car(feet(22), feet(9, 6), feet(11, 6), feet(4, 10)),
    ],
  }),
  fromMemory({
    key: 'steam-2-8-0',
    name: 'Consolidation',
    wheels: '2-8-0',
    overCouplersMm: feet(70),
    heightMm: feet(15),
    weightKg: 170_000,
    frames: [
      drivers(feet(17), [-feet(8), feet(10)], [feet(17), feet(9, 8)], [feet(24, 6), feet(10, 4)], [feet(30), feet(9, 6)]),
      car(feet(28, 6), feet(10), feet(15, 6), feet(5, 8)),
    ],
  }),
  fromMemory({
    key: 'steam-4-6-2',
    name: 'Pacific',
    wheels: '4-6-2',
    overCouplersMm: feet(86),
    heightMm: feet(15, 4),
    weightKg: 235_000,
    frames: [
      drivers(feet(14), [-feet(15), feet(10, 2)], [feet(14), feet(9, 8)], [feet(23), feet(10, 6)], [feet(31), feet(9, 6)]),
      car(feet(35), feet(10, 2), feet(19, 6), feet(6)),
    ],
  }),
  fromMemory({
    key: 'steam-4-8-4',
    name: 'Northern',
    wheels: '4-8-4',
    overCouplersMm: feet(112),
    heightMm: feet(16),
    weightKg: 390_000,
    frames: [
      drivers(feet(20, 6), [-feet(18), feet(10, 6)], [feet(20, 6), feet(10)], [feet(30, 6), feet(11)], [feet(38, 6), feet(9, 8)]),
      car(feet(47), feet(10, 6), feet(25, 6), feet(10)),
    ],
  }),
  fromMemory({
    key: 'steam-2-10-4',
    name: 'Ten-coupled freight engine',
    wheels: '2-10-4',
    overCouplersMm: feet(116),
    heightMm: feet(16),
    weightKg: 410_000,
    frames: [
      drivers(feet(24, 4), [-feet(18), feet(10, 8)], [feet(24, 4), feet(10)], [feet(32, 6), feet(11)], [feet(39), feet(9, 8)]),
      car(feet(48), feet(10, 8), feet(26), feet(10)),
    ],
  }),
  fromMemory({
    key: 'steam-2-8-8-2',
    name: 'Articulated freight engine',
    wheels: '2-8-8-2',
    overCouplersMm: feet(114),
    heightMm: feet(15, 9),
    weightKg: 400_000,
    frames: [
      // Front engine: cylinders and pilot beam.
      drivers(feet(15, 6), [-feet(3), feet(9)], [feet(15, 6), feet(9, 6)], [feet(22, 6), feet(11)], [feet(28, 6), feet(9, 8)]),
      // Rear engine: the boiler is fixed to it and reaches over the front engine to its smokebox, as wide as its running boards.
      drivers(feet(15, 6), [-feet(11), feet(10, 8)], [feet(15, 6), feet(10, 6)], [feet(44), feet(9, 8)], [feet(48), feet(7, 6)]),
      car(feet(42), feet(10, 6), feet(22, 6), feet(8)),
    ],
  }),
  fromMemory({
    key: 'narrow-2-8-0',
    name: 'Narrow-gauge Consolidation',
    wheels: '2-8-0',
    overCouplersMm: feet(52),
    heightMm: feet(11, 6),
    weightKg: 50_000,
    frames: [
      drivers(feet(11, 8), [-feet(6), feet(8)], [feet(11, 8), feet(7)], [feet(16, 6), feet(8, 2)], [feet(21), feet(7, 6)]),
      car(feet(18), feet(7, 8), feet(9, 6), feet(4, 4)),
    ],
  }),
]
