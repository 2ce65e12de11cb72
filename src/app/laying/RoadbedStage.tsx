import type { ReactNode } from 'react'
import { layingProblemTexts } from '../../words/shoppingText.ts'
import { numberText } from '../../words/measure.ts'
import { recordName } from '../../words/names.ts'
import { usePlan, usePrefs } from '../context.ts'
import { MaterialList, StockList } from '../stock/StockList.tsx'
import { LayCentreline } from '../stages/LayCentreline.tsx'
import { LayingWork } from './LayingWork.tsx'
import { IdleTicks, ListProblems, ListsSwitch, SaveLists, Sums } from './StageParts.tsx'
import type { Sum } from './StageParts.tsx'
import { useLists } from './useLists.ts'
import type { ListsNow } from './useLists.ts'

/** What roadbed to cut, how it bends, and where it lies. */
export default function RoadbedStage(): ReactNode {
  const isEmpty = usePlan((state) => Object.keys(state.committed.tracks).length === 0)
  const lists = useLists()
  if (isEmpty)
    return (
      <>
        <p className="lead">
          Here the roadbed becomes strips that bend to every curve without tearing, with their joints apart, and sheets to cut them from. It
          needs a centreline first.
        </p>
        <div className="acts is-column">
          <LayCentreline />
        </div>
        <StockList stage="roadbed" />
        <MaterialList />
      </>
    )
  return (
    <>
      <p className="lead">
        Cut the strips sheet by sheet, bevel their edges, and lay them from the middle of each curve outwards. Tick off what is cut.
      </p>
      <LayingWork />
      {lists === null ? null : <Roadbed lists={lists} />}
      <StockList stage="roadbed" />
      <MaterialList />
    </>
  )
}

function Roadbed({ lists }: { readonly lists: ListsNow }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { roadbed, roadbedCut } = lists.lists
  const strips = roadbed.runs.reduce((sum, { pieces }) => sum + pieces.length, 0)
  const fillers = roadbed.turnoutPieces.reduce((sum, card) => sum + card.strips.length, 0)
  const sums: readonly Sum[] = [
    { word: 'Strips', figure: String(strips) },
    { word: 'Pieces at turnouts', figure: String(fillers) },
    { word: 'Cut of them', figure: String(lists.ticks.of.roadbed.size) },
    ...(roadbedCut.ok
      ? roadbedCut.plan.counts.map(({ stock, used, toBuy }) => ({
          word: recordName(lists.plan, 'stocks', stock),
          figure: String(used),
          proof: `${toBuy} of them to buy.`,
        }))
      : []),
    ...(roadbedCut.ok && roadbedCut.plan.sheetMm2 > 0
      ? [
          {
            word: 'Of the sheets is used',
            figure: `${numberText((100 * roadbedCut.plan.usedMm2) / roadbedCut.plan.sheetMm2, 0)} %`,
            proof: roadbedCut.plan.isProven
              ? 'Proven: no other lengths on the strips or strips on the sheets take fewer.'
              : 'The fewest that were found; fewer are not ruled out.',
          },
        ]
      : []),
    { word: 'Ramps', figure: String(roadbed.ramps.length) },
  ]
  return (
    <>
      <ListsSwitch />
      <Sums sums={sums} />
      <SaveLists lists={lists} />
      <IdleTicks lists={lists} />
      <ListProblems texts={layingProblemTexts(lists.lists, lists.plan, prefs).roadbed} />
      <p className="soft small">
        Use a sharp blade and a steel rule, cut away from the hand that holds; when you sand roadbed, catch the dust and wear a mask.
      </p>
    </>
  )
}
