import { memo, useMemo } from 'react'
import type { ReactNode } from 'react'
import { pathPoseAt, pathReverse, poseOffset } from '../../core/geom/index.ts'
import type { Path } from '../../core/geom/types.ts'
import type { RoadbedWork, StripPiece } from '../../core/roadbed/types.ts'
import { useLaying, usePlan } from '../context.ts'
import { useView } from './canvasContext.ts'
import { PieceName } from './PieceName.tsx'
import { pathText, pathTransform, polylineText } from './svgPath.ts'
import './laying.css'

/** From this width of a strip on the screen on, px, its mark stands on it. */
const namesWidthPx = 11

/** The strips of roadbed as they are cut, and the cards at turnouts. */
export default function RoadbedMarks(): ReactNode {
  const roadbed = useLaying((laying) => laying.answer?.lists.roadbed ?? null)
  const answerFor = useLaying((laying) => laying.answerFor)
  const isOld = usePlan(({ committed }) => committed !== answerFor)
  const view = useView()
  if (roadbed === null) return null
  return (
    <g className="roadbed-marks" data-old={isOld ? '' : undefined}>
      <g transform={pathTransform(view)}>
        <Strips roadbed={roadbed} />
      </g>
      {roadbed.runs.map((run) =>
        run.pieces.map((piece) =>
          piece.widthMm * view.pxPerMm < namesWidthPx ? null : (
            <PieceName
              key={piece.id}
              name={piece.id}
              pose={poseOffset(pathPoseAt(run.path, (piece.fromMm + piece.toMm) / 2), piece.offsetMm)}
              outMm={0}
              lengthMm={piece.lengthMm}
              view={view}
            />
          ),
        ),
      )}
    </g>
  )
}

/** Every other strip piece is tinted, all are outlined: their ends are the joints. */
const Strips = memo(function Strips({ roadbed }: { readonly roadbed: RoadbedWork }): ReactNode {
  const [plain, tinted, cards] = useMemo(() => {
    const texts: [string[], string[]] = [[], []]
    for (const run of roadbed.runs) {
      const back = pathReverse(run.path)
      const count = new Map<number, number>()
      for (const piece of run.pieces) {
        const nth = count.get(piece.strip) ?? 0
        count.set(piece.strip, nth + 1)
        // Neighbours across the band differ as those along it do.
        texts[(nth + piece.strip) % 2]?.push(outlineOf(run.path, back, piece))
      }
    }
    return [...texts.map((parts) => parts.join('')), roadbed.turnoutPieces.map(({ foot }) => polylineText(foot, true)).join('')]
  }, [roadbed])
  return (
    <>
      <path className="strip" d={plain} />
      <path className="strip is-tinted" d={tinted} />
      <path className="strip is-card" d={cards} />
    </>
  )
})

/** Round a strip: along its left edge, and back along its right. back: the run's line the other way. */
function outlineOf(path: Path, back: Path, { fromMm, toMm, offsetMm, widthMm }: StripPiece): string {
  const to = Math.min(toMm, path.lengthMm)
  const out = pathText(path, fromMm, to, offsetMm + widthMm / 2)
  const home = pathText(back, path.lengthMm - to, path.lengthMm - fromMm, -(offsetMm - widthMm / 2))
  return `${out}${home.replace('M', 'L')}Z`
}
