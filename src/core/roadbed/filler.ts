import { pathBends, pathNearest, pathOffsetPoint, pathSlice, radiusTighter, rootBrent } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import type { Stretch } from '../network/index.ts'
import type { RouteName } from '../turnout/types.ts'
import { roadbedCardBeside } from '../turnout/index.ts'
import { mostStrips, stripsThatBend } from './bend.ts'
import { jointsPlaced } from './joints.ts'
import { pathMeasured } from './measured.ts'
import type { Section } from './section.ts'
import { zonesJoined } from './stretches.ts'
import type { FillerStrip } from './types.ts'

/** A leaving line looked at for where it is clear of its host, mm. */
const lookStepMm = 4
/** What is thinner crumbles. Common practice, no source. */
const thinnestMm = 1
const toleranceMm = 1e-4

/** A line that leaves a host, from where it does; both as far as it is looked at, in one frame. */
export interface Leaving {
  readonly route: RouteName
  readonly centre: Path
  readonly host: Path
  /** Of the centre: the roadbed reaches at least so far, and at most so far. */
  readonly leastMm: number
  readonly mostMm: number
  /** Beyond the crotch by so much. */
  readonly spareMm: number
  /** Along the centre: where it must not end. */
  readonly bays: readonly Stretch[]
}

/** What a leaving line adds to its host's roadbed. */
export interface Filler {
  /** Along the centre: how far it reaches. */
  readonly reachMm: number
  /** What of the band still lies in the host's at its end; 0: they have parted. */
  readonly overlapMm: number
  readonly top: readonly Point[]
  readonly foot: readonly Point[]
  readonly taperMm: number
  readonly crotchRad: number | null
  readonly strips: readonly Omit<FillerStrip, 'id'>[]
}

/**
 * The roadbed of a leaving line beside its host's band: how far it reaches, its outline, and the strips that it is laid of. Each strip begins
 * where its outer edge comes out of the host's band and is full from where its inner edge has.
 *
 * Exactness: stations to 1e-4 mm, lengths those of the strips' own offsets.
 */
export function fillerBeside(
  leaving: Leaving,
  section: Section,
  limits: { readonly longestMm: (widthMm: number) => number; readonly staggerMm: number },
): Filler {
  const { centre, host, route } = leaving
  const { footWidthMm, roadbed, material, shoulderMm, narrowestMm } = section
  const half = footWidthMm / 2
  const away = pathNearest(host, pathOffsetPoint(centre, leaving.leastMm, 0)).offsetMm >= 0 ? 1 : -1
  /** How far a line beside the centre lies outside the host's band. */
  const out = (station: number, offsetMm: number): number =>
    away * pathNearest(host, pathOffsetPoint(centre, station, away * offsetMm)).offsetMm - half
  const partedMm = reachOf(leaving, (station) => out(station, -half))
  const bay = zonesJoined(leaving.bays).find(({ fromMm, toMm }) => fromMm < partedMm && partedMm < toMm)
  const reachMm = bay ? Math.min(leaving.mostMm, bay.toMm) : partedMm
  const emerges = (offsetMm: number, byMm: number): number => {
    if (out(reachMm, offsetMm) <= byMm) return reachMm
    if (out(0, offsetMm) >= byMm) return 0
    const at = rootBrent((station) => out(station, offsetMm) - byMm, 0, reachMm, toleranceMm)
    return at.ok ? at.x : reachMm
  }

  const own = pathSlice(centre, 0, reachMm)
  const measured = pathMeasured(centre)
  const tightest = pathBends(own).reduce<number | null>((least, { radiusMm }) => radiusTighter(least, radiusMm), null)
  const strips =
    roadbed.strips === 'fit'
      ? (stripsThatBend(footWidthMm, tightest, material.strainLimit, narrowestMm) ?? mostStrips(footWidthMm, narrowestMm))
      : roadbed.strips
  const widthMm = footWidthMm / strips
  const edges = Array.from({ length: strips + 1 }, (_, i) => emerges(half - i * widthMm, i === 0 ? thinnestMm : 0))
  let beside: readonly number[] = []
  const cut = Array.from({ length: strips }, (_, strip) => {
    const [from, full] = [edges[strip] ?? 0, edges[strip + 1] ?? reachMm]
    const offsetMm = away * (half - (strip + 0.5) * widthMm)
    const startMm = measured.alongAt(from, offsetMm)
    const along = (station: number): number => measured.alongAt(station, offsetMm) - startMm
    const zones = beside.flatMap((at): readonly Stretch[] => {
      const zone = { fromMm: along(at - limits.staggerMm), toMm: along(at + limits.staggerMm) }
      return zone.toMm > 0 ? [zone] : []
    })
    const ask = { lengthMm: along(reachMm), longestMm: limits.longestMm(widthMm), leastMm: 0 }
    const joints = jointsPlaced({ ...ask, forbidden: zones }) ?? jointsPlaced({ ...ask, forbidden: [] }) ?? []
    beside = joints.map((joint) => measured.stationAt(joint + startMm, offsetMm))
    const cuts = [0, ...joints, ask.lengthMm]
    return cuts.slice(1).map((to, i) => ({
      strip,
      number: i + 1,
      widthMm,
      lengthMm: to - (cuts[i] ?? 0),
      taperMm: i === 0 ? Math.min(to, along(full)) : 0,
    }))
  })
  const card = roadbedCardBeside(route, own, host, { roadbedMm: roadbed.topWidthMm, shoulderMm })
  return {
    reachMm,
    overlapMm: Math.max(0, -out(reachMm, -half)),
    top: card?.top ?? [],
    foot: card?.foot ?? [],
    taperMm: card?.taperMm ?? 0,
    crotchRad: card?.crotchRad ?? null,
    strips: cut.flat().filter(({ lengthMm }) => lengthMm > thinnestMm),
  }
}

/** Where the inner edge has been out of the host's band for the spare length; of lines that do not part, where they are farthest apart. */
function reachOf({ leastMm, mostMm, spareMm }: Leaving, innerOut: (station: number) => number): number {
  let farthest: { readonly at: number; readonly out: number } = { at: leastMm, out: -Infinity }
  for (let at = leastMm; at <= mostMm; at += lookStepMm) {
    const outMm = innerOut(at)
    if (outMm >= 0) return Math.min(mostMm, at + spareMm)
    if (outMm > farthest.out + toleranceMm) farthest = { at, out: outMm }
  }
  return Math.min(mostMm, farthest.at)
}
