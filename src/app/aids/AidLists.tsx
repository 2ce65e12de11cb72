import type { ReactNode } from 'react'
import { readingMeasure } from '../../core/readings/index.ts'
import { angleText } from '../../words/measure.ts'
import { measuredText } from '../../words/readingText.ts'
import { useDerivedAtRest } from '../atRest.ts'
import { usePlan, usePrefs } from '../context.ts'
import { RecordList } from '../stages/RecordList.tsx'

/** What helps to draw, by name: a guide may lie out of sight, and a measurement under a track. */
export default function AidLists(): ReactNode {
  const guides = usePlan((state) => state.committed.guides)
  const readings = usePlan((state) => state.committed.readings)
  const { network } = useDerivedAtRest()
  const prefs = usePrefs((state) => state)
  return (
    <>
      <RecordList
        table="guides"
        title="Guides"
        records={Object.values(guides).map(({ id, name, angleRad }) => ({ id, name, note: angleText(angleRad) }))}
      />
      <RecordList
        table="readings"
        title="Measurements"
        records={Object.values(readings).map(({ id, name, of }) => ({ id, name, note: measuredText(readingMeasure(of, network), prefs) }))}
      />
    </>
  )
}
