import { useMemo } from 'react'
import type { ReactNode } from 'react'
import { pathPoseAt } from '../../core/geom/index.ts'
import type { Point } from '../../core/geom/types.ts'
import { pipelineCreate } from '../../core/pipeline/index.ts'
import type { Plan } from '../../core/plan/types.ts'
import { differenceSigns, differenceText, planDifferences, railwayDifferenceText } from '../../words/compareText.ts'
import { usePrefs } from '../context.ts'
import type { PlanDifference } from '../../words/compareText.ts'

interface CompareProps {
  readonly before: Plan
  readonly after: Plan
}

/** What two plans have otherwise: a picture with every difference marked, and the same as a list. */
export function CompareView({ before, after }: CompareProps): ReactNode {
  const prefs = usePrefs((state) => state)
  const { railway, records } = useMemo(() => planDifferences(before, after), [before, after])
  const whole = railwayDifferenceText(before, after, railway, prefs)
  return (
    <>
      <CompareDrawing before={before} after={after} records={records} />
      <p className="soft small">
        In both, alike: a thin line. <b>{differenceSigns.added}</b> only in the second: a broad line. <b>{differenceSigns.removed}</b> only
        in the first: dashes. <b>{differenceSigns.changed}</b> differs: dashes where it was, a broad line where it is.
      </p>
      {records.length === 0 && whole === null ? <p>They are alike in all.</p> : null}
      <ul className="differences">
        {whole === null ? null : (
          <li>
            <b aria-hidden="true">{differenceSigns.changed}</b> {whole}
          </li>
        )}
        {records.map((difference) => (
          <li key={`${difference.table} ${difference.id}`}>
            <b aria-hidden="true">{differenceSigns[difference.what]}</b> {differenceText(before, after, difference, prefs)}
          </li>
        ))}
      </ul>
    </>
  )
}

interface Line {
  readonly key: string
  readonly points: readonly Point[]
}

const linePoints = 60

/** Every record that is a line or an outline, and turnouts as the point of their switch. */
function linesOf(plan: Plan): ReadonlyMap<string, Line> {
  const { network } = pipelineCreate().derive(plan)
  const lines: Line[] = []
  const ring = (table: string, id: string, points: readonly Point[], isClosed: boolean): void => {
    const [first] = points
    if (first !== undefined) lines.push({ key: `${table} ${id}`, points: isClosed ? [...points, first] : points })
  }
  for (const { id, points, isClosed } of Object.values(plan.walls)) ring('walls', id, points, isClosed)
  for (const { id, outline } of Object.values(plan.obstacles)) ring('obstacles', id, outline, true)
  for (const { id, outline } of Object.values(plan.benchworks)) ring('benchworks', id, outline, true)
  for (const { id, from, to } of Object.values(plan.joists)) ring('joists', id, [from, to], false)
  for (const [id, { alignment }] of network.tracks) {
    if (!alignment.ok) continue
    const { path } = alignment
    const at = (i: number): Point => pathPoseAt(path, (path.lengthMm * i) / linePoints)
    ring(
      'tracks',
      id,
      Array.from({ length: linePoints + 1 }, (_, i) => at(i)),
      false,
    )
  }
  for (const [id, { turnout }] of network.turnouts) {
    const host = network.tracks.get(turnout.track)
    if (host?.alignment.ok !== true) continue
    const { path } = host.alignment
    const within = Math.min(Math.max(turnout.stationMm, 0), path.lengthMm)
    ring('turnouts', id, [pathPoseAt(path, within), pathPoseAt(path, Math.min(within + 1, path.lengthMm))], false)
  }
  return new Map(lines.map((line) => [line.key, line]))
}

function CompareDrawing({ before, after, records }: CompareProps & { readonly records: readonly PlanDifference[] }): ReactNode {
  const [old, now] = useMemo(() => [linesOf(before), linesOf(after)], [before, after])
  // A track whose turnout moved lies elsewhere though its own record is the same: what is drawn is compared too.
  const what = new Map<string, PlanDifference['what']>(records.map(({ table, id, what: kind }) => [`${table} ${id}`, kind]))
  for (const [key, { points }] of now) {
    const was = old.get(key)
    if (was !== undefined && !what.has(key) && !isSamePlace(was.points, points)) what.set(key, 'changed')
  }
  const all = [...old.values(), ...now.values()].flatMap(({ points }) => points)
  if (all.length === 0) return null
  const [xs, ys] = [all.map(({ x }) => x), all.map(({ y }) => y)]
  const [minX, maxX, minY, maxY] = [least(xs), most(xs), least(ys), most(ys)]
  const size = Math.max(maxX - minX, (maxY - minY) * 2, 1)
  const edge = size * 0.04
  const box = `${minX - edge} ${-maxY - edge} ${maxX - minX + 2 * edge} ${maxY - minY + 2 * edge}`
  const text = (points: readonly Point[]): string => points.map(({ x, y }) => `${x},${-y}`).join(' ')
  return (
    <svg className="compare" viewBox={box} role="img" aria-label="Both plans over each other, differences marked; the list says the same">
      {[...now.values()].map(({ key, points }) => {
        const kind = what.get(key)
        return <polyline key={key} className={kind === undefined ? 'is-alike' : 'is-now'} points={text(points)} />
      })}
      {[...old.values()].map(({ key, points }) => (what.has(key) ? <polyline key={key} className="was" points={text(points)} /> : null))}
      {[...what].map(([key, kind]) => {
        const { points = [] } = (kind === 'removed' ? old : now).get(key) ?? {}
        const at = points[Math.floor(points.length / 2)]
        return at === undefined ? null : (
          <g key={key} transform={`translate(${at.x} ${-at.y}) scale(${size / 60})`}>
            <circle r="1.1" />
            <text textAnchor="middle" dominantBaseline="central" fontSize="2">
              {differenceSigns[kind]}
            </text>
          </g>
        )
      })}
    </svg>
  )
}

// Not Math.min(...all): a plan has more points than a call has room for.
const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b), Infinity)
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), -Infinity)

/** A hundredth of a millimetre: less than any hand sees. */
const sameMm = 0.01

function isSamePlace(a: readonly Point[], b: readonly Point[]): boolean {
  return (
    a.length === b.length && a.every(({ x, y }, i) => Math.abs(x - (b[i]?.x ?? NaN)) < sameMm && Math.abs(y - (b[i]?.y ?? NaN)) < sameMm)
  )
}
