import type { CornerPlace } from '../alignment/types.ts'
import { boxContains, pathOffsetPoint, pathPoseAt } from '../geom/index.ts'
import type { Path, Point } from '../geom/types.ts'
import { freeSpaceIsTaken, freeSpacePlace, freeSpaceTakeLine, type FreeSpace, type Place } from './freeSpace.ts'
import { planLine, type PlanItem } from './planItem.ts'
import type { SheetOptions } from './types.ts'
import { lengthWords, stationWords } from './words.ts'

/** A line to be marked: where its ties end, and the stretch that the sheets show. */
export interface MarkedLine {
  readonly path: Path
  readonly halfTieMm: number
  readonly fromMm: number
  readonly toMm: number
}

const sides = [-1, 1] as const

const steps = {
  imperial: { tickMm: 25.4, every: 6 },
  metric: { tickMm: 50, every: 2 },
} as const

interface Station {
  readonly stationMm: number
  readonly isLabelled: boolean
}

/** Stations that are marked: every inch, or every 50 mm. */
export function stationsMarked(line: MarkedLine, units: SheetOptions['units']): readonly Station[] {
  const { tickMm, every } = steps[units]
  const stations: Station[] = []
  for (let n = Math.ceil(line.fromMm / tickMm - 1e-9); n * tickMm <= line.toMm + 1e-9; n++) {
    stations.push({ stationMm: Math.min(n * tickMm, line.path.lengthMm), isLabelled: n % every === 0 })
  }
  return stations
}

/**
 * Station ticks: a short stroke across the centreline and one beyond the tie ends, where it is seen when the ties are down;
 * longer and with its station every 6 in or every 100 mm. On the side that is free; a station that finds no room, beside the
 * mark of a curve or between tracks, is left out: its tick and its neighbours tell it.
 */
export function stationTicks(line: MarkedLine, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const items: PlanItem[] = []
  const texts: PlanItem[] = []
  for (const { stationMm: station, isLabelled } of stationsMarked(line, units)) {
    if (!boxContains(space.within, pathPoseAt(line.path, station))) continue
    const centreHalf = isLabelled ? 2.5 : 1.25
    items.push(strokeAcross(line.path, station, -centreHalf, centreHalf, 'tick'))
    // Long ties of a turnout: no tick on them, and no station that would stand there by itself.
    const free = sides.filter((side) =>
      [1.9, 2.8, 3.7, 4.5].every(
        (beyond) => !freeSpaceIsTaken(space, pathOffsetPoint(line.path, station, side * (line.halfTieMm + beyond))),
      ),
    )
    const reach = isLabelled ? 4.5 : 2.8
    for (const side of free)
      items.push(strokeAcross(line.path, station, side * (line.halfTieMm + 1), side * (line.halfTieMm + reach), 'tick'))
    const text = isLabelled
      ? freeSpacePlace(
          space,
          { kind: 'text', layer: 'stations', text: stationWords(station, units), sizeMm: 3.4, weight: 'regular', grey: 0 },
          [6.6, 9.5, 13.5].flatMap((beyond) =>
            free.map((side) => placeBeside(line.path, station, side * (line.halfTieMm + beyond), 'middle', 0)),
          ),
          'leave-out',
        )
      : null
    if (text) texts.push(text)
    // After its own text, which stands at its end.
    for (const side of free) {
      const [from, to] = [1, reach].map((beyond) => pathOffsetPoint(line.path, station, side * (line.halfTieMm + beyond)))
      if (from && to) freeSpaceTakeLine(space, from, to)
    }
  }
  return [...items, ...texts]
}

interface CurveMark {
  readonly stationMm: number
  readonly text: string
}

/** The mark of a curve's point reaches so far beyond the tie ends on both sides, mm. */
const MARK_REACH_MM = 11

/** The points of a curve that the sheets show. */
function marksShown(line: MarkedLine, corner: CornerPlace, units: SheetOptions['units']): readonly CurveMark[] {
  return marksOf(corner, units).filter(({ stationMm }) => stationMm >= line.fromMm - 1e-6 && stationMm <= line.toMm + 1e-6)
}

/**
 * Marks where the line changes: across the track, clear of the tie ends on both sides. They take their places before any
 * text looks for one: curveTexts.
 */
export function curveMarks(line: MarkedLine, corner: CornerPlace, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const reach = line.halfTieMm + MARK_REACH_MM
  return marksShown(line, corner, units).map(({ stationMm }) => {
    freeSpaceTakeLine(space, pathOffsetPoint(line.path, stationMm, -reach), pathOffsetPoint(line.path, stationMm, reach))
    return strokeAcross(line.path, stationMm, -reach, reach, 'mark')
  })
}

/**
 * Their names: TS, SC, CS, ST of a curve with easements, PC and PT of one without, with station and, on the arc, its
 * radius. Where there is no room within reach of the mark, it is made longer.
 */
export function curveTexts(line: MarkedLine, corner: CornerPlace, units: SheetOptions['units'], space: FreeSpace): readonly PlanItem[] {
  const outside = corner.solution.deflectionRad > 0 ? -1 : 1
  return marksShown(line, corner, units).flatMap((mark): readonly PlanItem[] => {
    const places = [9.5, 5.5, 13.5, 17.5, 21.5, 25.5].flatMap((beyond) =>
      [outside, -outside].flatMap((side) => {
        const offset = side * (line.halfTieMm + beyond)
        const both = [
          placeBeside(line.path, mark.stationMm, offset, 'start', 1.2),
          placeBeside(line.path, mark.stationMm, offset, 'end', -1.2),
        ]
        return both.map((place) => ({ ...place, side, beyond }))
      }),
    )
    const text = freeSpacePlace(
      space,
      { kind: 'text', layer: 'curves', text: mark.text, sizeMm: 3.6, weight: 'bold', grey: 0 },
      places,
      'least-taken',
    )
    const chosen = places.find(({ middle }) => middle === text?.middle)
    if (!text || !chosen) return []
    if (chosen.beyond <= MARK_REACH_MM + 3) return [text]
    const [from, to] = [MARK_REACH_MM, chosen.beyond + 2].map((beyond) => chosen.side * (line.halfTieMm + beyond))
    return [text, strokeAcross(line.path, mark.stationMm, from ?? 0, to ?? 0, 'mark')]
  })
}

function marksOf(corner: CornerPlace, units: SheetOptions['units']): readonly CurveMark[] {
  const { solution, tsMm, scMm, joins, csMm, stMm } = corner
  const station = (name: string, mm: number): CurveMark => ({ stationMm: mm, text: `${name} ${lengthWords(mm, units)}` })
  const withRadius = (mark: CurveMark, arc = 0): CurveMark => {
    const radiusMm = solution.arcs[arc]?.radiusMm ?? solution.radiusMm
    return { ...mark, text: `${mark.text} · R ${lengthWords(radiusMm, units)}` }
  }
  const between = joins.flatMap(({ fromMm, toMm }, i) =>
    toMm > fromMm ? [station('CS', fromMm), withRadius(station('SC', toMm), i + 1)] : [withRadius(station('CC', fromMm), i + 1)],
  )
  const easesIn = solution.easementInMm > 0
  const easesOut = solution.easementOutMm > 0
  const into = easesIn ? [station('TS', tsMm), withRadius(station('SC', scMm))] : [withRadius(station('PC', scMm))]
  const out = easesOut ? [station('CS', csMm), station('ST', stMm)] : [station('PT', csMm)]
  // No arc left: SC and CS are one place.
  if (easesIn && easesOut && joins.length === 0 && csMm - scMm < 0.5)
    return [station('TS', tsMm), withRadius(station('SC CS', scMm)), station('ST', stMm)]
  return [...into, ...between, ...out]
}

/** Tangent lines of a corner from TS over the PI to ST, with a small cross on the PI. */
export function tangentLines(path: Path, corner: CornerPlace): readonly PlanItem[] {
  const { pi } = corner
  const ts = pathPoseAt(path, corner.tsMm)
  const st = pathPoseAt(path, corner.stMm)
  const arm = (headingRad: number): PlanItem => {
    const [dx, dy] = [2.5 * Math.cos(headingRad + Math.PI / 4), 2.5 * Math.sin(headingRad + Math.PI / 4)]
    return planLine('curves', 'tick', { x: pi.x - dx, y: pi.y - dy }, { x: pi.x + dx, y: pi.y + dy })
  }
  return [
    planLine('curves', 'tangent', { x: ts.x, y: ts.y }, pi),
    planLine('curves', 'tangent', pi, { x: st.x, y: st.y }),
    arm(ts.headingRad),
    arm(ts.headingRad + Math.PI / 2),
    {
      kind: 'text',
      layer: 'curves',
      middle: { x: pi.x - 4 * Math.sin(ts.headingRad), y: pi.y + 4 * Math.cos(ts.headingRad) },
      text: 'PI',
      sizeMm: 3.4,
      angleRad: ts.headingRad,
      anchor: 'middle',
      weight: 'regular',
      grey: 0.3,
    },
  ]
}

function strokeAcross(path: Path, stationMm: number, fromOffsetMm: number, toOffsetMm: number, role: 'tick' | 'mark'): PlanItem {
  const from: Point = pathOffsetPoint(path, stationMm, fromOffsetMm)
  const to: Point = pathOffsetPoint(path, stationMm, toOffsetMm)
  return planLine(role === 'tick' ? 'stations' : 'curves', role, from, to)
}

/** A place for a text beside the path, along it; `ahead` moves it along the tangent, mm. */
export function placeBeside(path: Path, stationMm: number, offsetMm: number, anchor: Place['anchor'], ahead: number): Place {
  const pose = pathPoseAt(path, stationMm)
  const [cos, sin] = [Math.cos(pose.headingRad), Math.sin(pose.headingRad)]
  return {
    middle: { x: pose.x + ahead * cos - offsetMm * sin, y: pose.y + ahead * sin + offsetMm * cos },
    angleRad: pose.headingRad,
    anchor,
  }
}
