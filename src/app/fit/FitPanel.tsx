import { useEffect } from 'react'
import type { ReactNode } from 'react'
import { useSession, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { LengthField } from '../fields/fields.tsx'
import { keepIn } from '../fields/keepIn.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { usePreview } from '../lineActs/usePreview.ts'
import { Act, Fields, ParticularsHead } from '../particulars/parts.tsx'
import { FitOutcome } from './FitOutcome.tsx'
import { PlacesIn } from './PlacesIn.tsx'
import { PlacesList } from './PlacesList.tsx'
import type { Survey } from './survey.ts'
import { useFit } from './useFit.ts'
import './fit.css'

/** Fits a line to what is already built: measured places in, tangents, easements and arcs out, laid as a track when it is right. */
export function FitPanel({ onShut }: { readonly onShut: () => void }): ReactNode {
  const survey = useDesk((desk) => desk.survey)
  return survey === null ? null : <OfSurvey survey={survey} onShut={onShut} />
}

function OfSurvey({ survey, onShut }: { readonly survey: Survey; readonly onShut: () => void }): ReactNode {
  const desk = useDeskStore()
  const fit = useFit(survey)
  const change = (to: (now: Survey) => Survey): void => {
    const now = desk.getState().survey
    if (now !== null) desk.getState().set({ survey: to(now) })
  }
  useToolLaidDown()
  usePreview(fit.fitted?.answer.ok === true ? fit.fitted.answer.trace.path : null)
  const { places, before } = survey
  return (
    <>
      <ParticularsHead title="Fit to measured points" sub="Tangents, easements and arcs of what is built" />
      <PlacesIn survey={survey} change={change} />
      {places.length === 0 ? null : (
        <>
          <Fields title="How it is fitted">
            <LengthField
              label="Tolerance"
              kind="fine"
              value={survey.toleranceMm}
              origin="to either side"
              keep={keepIn((toleranceMm) => change((now) => ({ ...now, toleranceMm })))}
            />
            <ChoiceField
              label="The line"
              value={survey.isClosed ? 'closed' : 'open'}
              choices={[
                { value: 'open', text: 'has two ends' },
                { value: 'closed', text: 'goes round' },
              ]}
              onChoose={(value) => change((now) => ({ ...now, isClosed: value === 'closed' }))}
            />
          </Fields>
          <FitOutcome survey={survey} fit={fit} change={change} onShut={onShut} />
          <PlacesList survey={survey} fitted={fit.fitted} change={change} />
        </>
      )}
      {before === null ? null : (
        <div className="acts is-column">
          <Act onClick={() => change((now) => ({ ...now, ...before, pointed: null, before: null }))}>
            Take the last change of the points back
          </Act>
        </div>
      )}
    </>
  )
}

/** Who shuts the panel points at nothing any more; and on a narrow screen the panel comes up again when the tool is laid down. */
function useToolLaidDown(): void {
  const stores = useStores()
  const desk = useDeskStore()
  const isPointing = useSession((session) => session.tool === 'survey')
  useEffect(() => {
    if (!isPointing) return undefined
    return () => desk.getState().set({ drawer: 'particulars' })
  }, [desk, isPointing])
  useEffect(
    () => () => {
      const session = stores.session.getState()
      if (session.tool === 'survey') session.setTool('select')
    },
    [stores],
  )
}
