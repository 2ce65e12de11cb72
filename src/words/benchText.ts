import type { BenchSheetName } from '../core/deliver/index.ts'

/** What the kinds of bench sheet are called where one is chosen. */
export const benchSheetWords: Readonly<Record<BenchSheetName, string>> = {
  room: 'Bench: room with its dimensions',
  risers: 'Bench: joists and risers',
  'roadbed-cuts': 'Bench: roadbed to cut',
  'rail-cuts': 'Bench: rails on their sticks',
  filing: 'Bench: filing angles',
  'gauge-sticks': 'Bench: gauge sticks for curves',
  inspection: 'Bench: inspection',
  standards: 'Bench: standards of the railway',
}
