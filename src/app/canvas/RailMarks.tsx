import { memo, useMemo } from 'react'
import type { ReactNode } from 'react'
import { linePoseAt } from '../../core/rails/index.ts'
import type { RailLine, RailPiece, RailWork } from '../../core/rails/types.ts'
import { useLaying, usePlan } from '../context.ts'
import { useView } from './canvasContext.ts'
import { JointMarks } from './JointMarks.tsx'
import { PieceName } from './PieceName.tsx'
import { pathText, pathTransform } from './svgPath.ts'
import './laying.css'

/** From this gauge on the screen on, px, pieces have room for their marks. */
const namesGaugePx = 14
/** Rails of special work lie close: their marks want more, px. */
const workNamesGaugePx = 34
/** A joint's mark wants this gauge, px. */
const jointsGaugePx = 5

/** The pieces of rail as they are cut, and the joints between them, which can be taken along their rails. */
export default function RailMarks(): ReactNode {
  const rails = useLaying((laying) => laying.answer?.lists.rails ?? null)
  const answerFor = useLaying((laying) => laying.answerFor)
  const isOld = usePlan(({ committed }) => committed !== answerFor)
  const railway = usePlan((state) => state.plan.railway)
  const view = useView()
  if (rails === null) return null
  const gaugePx = railway.gaugeMm * view.pxPerMm
  return (
    <g className="rail-marks" data-old={isOld ? '' : undefined} data-far={gaugePx < jointsGaugePx ? '' : undefined}>
      <g transform={pathTransform(view)}>
        <Bands rails={rails} headMm={railway.railHeadMm} />
      </g>
      {gaugePx < namesGaugePx ? null : <Names rails={rails} />}
      {gaugePx < jointsGaugePx ? null : <JointMarks rails={rails} />}
    </g>
  )
}

/** Every other piece is drawn through, the ones between are dashed: where one ends can be seen without its joint. */
const Bands = memo(function Bands({ rails, headMm }: { readonly rails: RailWork; readonly headMm: number }): ReactNode {
  const [through, dashed] = useMemo(() => {
    const byRun = piecesByRun(rails)
    const texts: [string[], string[]] = [[], []]
    let turn = 0
    for (const line of rails.lines) {
      for (const piece of byRun.get(line.run) ?? []) {
        texts[turn]?.push(bandOf(line, piece, headMm))
        turn = 1 - turn
      }
    }
    return texts.map((parts) => parts.join(''))
  }, [rails, headMm])
  return (
    <>
      <path className="rail-band" d={through} />
      <path className="rail-band is-dashed" d={dashed} />
    </>
  )
})

function piecesByRun(rails: RailWork): ReadonlyMap<string, readonly RailPiece[]> {
  const found = new Map<string, RailPiece[]>()
  for (const piece of rails.pieces) {
    const list = found.get(piece.run)
    if (list === undefined) found.set(piece.run, [piece])
    else list.push(piece)
  }
  return found
}

function bandOf({ path, headSide }: RailLine, { fromMm, toMm }: RailPiece, headMm: number): string {
  const offsetMm = (headSide * headMm) / 2
  const end = Math.min(toMm, path.lengthMm)
  const parts = [pathText(path, Math.max(0, fromMm), Math.max(fromMm, end), offsetMm)]
  // A piece of a closed rail may lie over its beginning.
  if (toMm > path.lengthMm + 1e-6) parts.push(pathText(path, 0, Math.min(path.lengthMm, toMm - path.lengthMm), offsetMm))
  return parts.join('')
}

/** The marks that stand on the pieces, beside their middles. */
function Names({ rails }: { readonly rails: RailWork }): ReactNode {
  const view = useView()
  const { tieLengthMm, gaugeMm } = usePlan((state) => state.plan.railway)
  const lines = useMemo(() => new Map(rails.lines.map((line) => [line.run, line])), [rails])
  return rails.pieces.map((piece) => {
    const line = lines.get(piece.run)
    const isPlain = piece.kind === 'plain'
    if (line === undefined || (!isPlain && gaugeMm * view.pxPerMm < workNamesGaugePx)) return null
    // On the rail's own side, away from the gauge; of plain track beyond the ties.
    const outMm = isPlain ? (tieLengthMm - gaugeMm) / 2 : gaugeMm / 12
    return (
      <PieceName
        key={piece.id}
        name={piece.id}
        pose={linePoseAt(line, (piece.fromMm + piece.toMm) / 2)}
        outMm={line.headSide * outMm}
        lengthMm={piece.laidMm}
        view={view}
      />
    )
  })
}
