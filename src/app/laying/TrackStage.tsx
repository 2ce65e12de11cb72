import type { ReactNode } from 'react'
import { layingProblemTexts } from '../../words/shoppingText.ts'
import { tieStockText } from '../../words/layingLists.ts'
import { lengthText } from '../../words/measure.ts'
import { cutProofText } from '../../words/railTables.ts'
import { usePlan, usePrefs } from '../context.ts'
import { LayCentreline } from '../stages/LayCentreline.tsx'
import { StockList } from '../stock/StockList.tsx'
import { JointList } from './JointList.tsx'
import { LayingWork } from './LayingWork.tsx'
import { IdleTicks, ListProblems, ListsSwitch, SaveLists, Sums } from './StageParts.tsx'
import type { Sum } from './StageParts.tsx'
import { useLists } from './useLists.ts'
import type { ListsNow } from './useLists.ts'

/** What rails and ties to cut, and in which order they are laid. */
export default function TrackStage(): ReactNode {
  const isEmpty = usePlan((state) => Object.keys(state.committed.tracks).length === 0)
  const lists = useLists()
  if (isEmpty)
    return (
      <>
        <p className="lead">
          Here every rail becomes pieces of your own sticks, with joints where they do no harm, and ties a list for the saw. It needs a
          centreline first.
        </p>
        <div className="acts is-column">
          <LayCentreline />
        </div>
        <StockList stage="track" />
      </>
    )
  return (
    <>
      <p className="lead">Cut the rails stick by stick, ties by their list, and lay both in the order given. Tick off what is done.</p>
      <LayingWork />
      {lists === null ? null : <Track lists={lists} />}
      <StockList stage="track" />
    </>
  )
}

function Track({ lists }: { readonly lists: ListsNow }): ReactNode {
  const prefs = usePrefs((state) => state)
  const { rails, railCuts, ties, tieCuts } = lists.lists
  const { rail } = lists.ticks.of
  const laid = [...rail.values()].filter(({ done }) => done === 'laid').length
  const sums: readonly Sum[] = [
    { word: 'Pieces of rail', figure: String(rails.pieces.length) },
    { word: 'Cut and laid of them', figure: `${rail.size} · ${laid}` },
    { word: 'Joints', figure: String(rails.joints.length) },
    ...railCuts.flatMap(({ code, result }): readonly Sum[] =>
      result.ok
        ? [
            { word: `Sticks, code ${code}`, figure: String(result.plan.stickCount), proof: cutProofText(result.plan, prefs) },
            { word: 'Waste of them', figure: lengthText(result.plan.wasteMm, prefs) },
          ]
        : [],
    ),
    { word: 'Ties', figure: String(ties.list.count) },
    ...tieCuts.flatMap(({ order, result }): readonly Sum[] =>
      result.ok
        ? [{ word: tieStockText(order, prefs), figure: String(result.plan.stickCount), proof: cutProofText(result.plan, prefs) }]
        : [],
    ),
    { word: 'Spikes', figure: String(rails.spiking.spikes) },
  ]
  return (
    <>
      <ListsSwitch />
      <Sums sums={sums} />
      <SaveLists lists={lists} />
      <IdleTicks lists={lists} />
      <ListProblems texts={layingProblemTexts(lists.lists, lists.plan, prefs).track} />
      <p className="soft small">
        Cut ends fly and are sharp: cover your eyes and file off the burrs. Cut ties away from the hand that holds, catch the dust of sawing
        and wear a mask. With solder and flux follow their labels and air the room.
      </p>
      <JointList lists={lists} />
    </>
  )
}
