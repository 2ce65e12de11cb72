import type { TurnoutRequest } from '../types.ts'
import type { BenchPractice } from './types.ts'
import { MM_PER_INCH } from '../../units/index.ts'

/** Top of the roadbed beside a standard tie, and the slope of its shoulder: as wide as cork is thick. Common practice, no source. */
const roadbedTies = 1.1
const shoulderMm = 4.8
/** No spikes within an inch of a frog that no wheel has proved. Common practice, no source. */
const spikeFreeMm = MM_PER_INCH

/**
 * A builder's practice when nothing is chosen: spring wire of 1/32 in through 3/16 in of roadbed and 1/2 in of deck, tilting at
 * its underside; a slow machine with a body of about 60 by 85 mm and a travel of 10 mm,
 * 20 mm below the fulcrum. All from memory, to be measured at the bench.
 */
export function benchUsual({ tieLengthMm }: Pick<TurnoutRequest, 'tieLengthMm'>): BenchPractice {
  const deckMm = (3 / 16 + 1 / 2) * MM_PER_INCH
  return {
    nest: 'undercut',
    spikeEvery: 2,
    spikeFreeMm,
    roadbedMm: roadbedTies * tieLengthMm,
    shoulderMm,
    throwWire: { wireMm: MM_PER_INCH / 32, deckMm, fulcrumMm: deckMm, travelMm: 10, armMm: 20 },
    motor: { alongMm: 60, acrossMm: 85, aroundMm: 5 },
  }
}
