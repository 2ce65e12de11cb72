/** What a rule finds at one station. */
export interface Probe {
  /** Negative: the limit is broken here by so much, mm. */
  readonly slackMm: number
  /** At least so far along nothing changes sign, mm; 0 where nothing is known. */
  readonly freeMm: number
}

/** A stretch over which a limit is broken, and its worst place. */
export interface Breach {
  readonly fromMm: number
  readonly toMm: number
  readonly worstMm: number
  readonly worstSlackMm: number
}

interface Sample {
  readonly stationMm: number
  readonly slackMm: number
}

/** Ends of a stretch are found to this, mm: a tenth of a scale inch is far more. */
const END_TOLERANCE_MM = 1e-3

/**
 * Every stretch of stations over which the probe is negative, in order.
 *
 * Units:      mm.
 * Domain:     0 <= from <= to; step > 0. The probe may jump, but between jumps it changes by at most 1 mm a mm.
 * Exactness:  ends to 1e-3 mm; worst place to 1e-2 mm of station. No stretch longer than a step is missed, and shorter ones only
 *             if the slack turns more sharply than a parabola through three samples.
 * Throws:     never.
 */
export function breachesAlong(fromMm: number, toMm: number, stepMm: number, probe: (stationMm: number) => Probe): readonly Breach[] {
  const samples = samplesWithDips(samplesAlong(fromMm, toMm, stepMm, probe), probe)
  const breaches: Breach[] = []
  let beginMm: number | null = null
  let first = 0
  for (let i = 0; i < samples.length; i++) {
    const [before, sample] = [samples[i - 1], samples[i]]
    if (sample === undefined) break
    if (sample.slackMm < 0 && beginMm === null) {
      beginMm = before === undefined ? sample.stationMm : endBetween(probe, before.stationMm, sample.stationMm)
      first = i
    } else if (sample.slackMm >= 0 && beginMm !== null && before !== undefined) {
      const endMm = endBetween(probe, sample.stationMm, before.stationMm)
      breaches.push(breachOf(samples, first, i - 1, beginMm, endMm, probe))
      beginMm = null
    }
  }
  const last = samples.at(-1)
  if (beginMm !== null && last !== undefined) breaches.push(breachOf(samples, first, samples.length - 1, beginMm, last.stationMm, probe))
  return breaches
}

function samplesAlong(fromMm: number, toMm: number, stepMm: number, probe: (stationMm: number) => Probe): readonly Sample[] {
  const samples: Sample[] = []
  let stationMm = fromMm
  for (;;) {
    const { slackMm, freeMm } = probe(stationMm)
    samples.push({ stationMm, slackMm })
    if (stationMm >= toMm) return samples
    stationMm = Math.min(toMm, stationMm + Math.max(stepMm, freeMm))
  }
}

/** The samples, with one more wherever three of them say that the slack may dip under zero between them. */
function samplesWithDips(samples: readonly Sample[], probe: (stationMm: number) => Probe): readonly Sample[] {
  const dips: Sample[] = []
  for (let i = 1; i < samples.length - 1; i++) {
    const [before, middle, after] = [samples[i - 1], samples[i], samples[i + 1]]
    if (before === undefined || middle === undefined || after === undefined || middle.slackMm < 0) continue
    if (before.slackMm < middle.slackMm || after.slackMm < middle.slackMm) continue
    const bend = before.slackMm - 2 * middle.slackMm + after.slackMm
    const lean = after.slackMm - before.slackMm
    const vertex = bend > 0 ? middle.slackMm - (lean * lean) / (8 * bend) : middle.slackMm
    // Nearly level ground is known to its own unevenness; a sharp dip may be deeper than its parabola by about as much.
    if (vertex - Math.max(bend, 0) >= 0) continue
    const lowest = lowestBetween(probe, before.stationMm, after.stationMm)
    if (lowest.slackMm < 0) dips.push(lowest)
  }
  return dips.length === 0 ? samples : [...samples, ...dips].toSorted((a, b) => a.stationMm - b.stationMm)
}

/** The station between a good and a bad one where it turns, on the bad side. */
function endBetween(probe: (stationMm: number) => Probe, goodMm: number, badMm: number): number {
  let good = goodMm
  let bad = badMm
  while (Math.abs(bad - good) > END_TOLERANCE_MM) {
    const middle = (good + bad) / 2
    if (probe(middle).slackMm < 0) bad = middle
    else good = middle
  }
  return bad
}

const GOLDEN = (Math.sqrt(5) - 1) / 2
const WORST_TOLERANCE_MM = 1e-2

/** Golden-section search for the least slack. */
function lowestBetween(probe: (stationMm: number) => Probe, fromMm: number, toMm: number): Sample {
  let from = fromMm
  let to = toMm
  let a = to - GOLDEN * (to - from)
  let b = from + GOLDEN * (to - from)
  let atA = probe(a).slackMm
  let atB = probe(b).slackMm
  while (to - from > WORST_TOLERANCE_MM) {
    if (atA <= atB) {
      to = b
      b = a
      atB = atA
      a = to - GOLDEN * (to - from)
      atA = probe(a).slackMm
    } else {
      from = a
      a = b
      atA = atB
      b = from + GOLDEN * (to - from)
      atB = probe(b).slackMm
    }
  }
  return atA <= atB ? { stationMm: a, slackMm: atA } : { stationMm: b, slackMm: atB }
}

function breachOf(
  samples: readonly Sample[],
  first: number,
  last: number,
  fromMm: number,
  toMm: number,
  probe: (stationMm: number) => Probe,
): Breach {
  let worst = first
  for (let i = first; i <= last; i++) if ((samples[i]?.slackMm ?? 0) < (samples[worst]?.slackMm ?? 0)) worst = i
  const at = samples[worst] ?? { stationMm: fromMm, slackMm: 0 }
  const low = Math.max(fromMm, samples[worst - 1]?.stationMm ?? fromMm)
  const high = Math.min(toMm, samples[worst + 1]?.stationMm ?? toMm)
  const refined = lowestBetween(probe, low, high)
  // On a level stretch the search may end anywhere; the sample is as good and stands still while the plan is edited.
  const best = refined.slackMm < at.slackMm - 1e-6 ? refined : at
  return { fromMm, toMm, worstMm: best.stationMm, worstSlackMm: best.slackMm }
}

/** On a closed line the last stretch goes on as the first one: of such two the worse stands for both. */
export function breachesRound(breaches: readonly Breach[], lengthMm: number): readonly Breach[] {
  const first = breaches[0]
  const last = breaches.at(-1)
  if (first === undefined || last === undefined || first === last || first.fromMm > 0 || last.toMm < lengthMm) return breaches
  return first.worstSlackMm < last.worstSlackMm ? breaches.slice(0, -1) : breaches.slice(1)
}
