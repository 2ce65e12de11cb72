import type { ReactNode } from 'react'
import type { TrackMeeting } from '../../core/alignment/index.ts'
import { meetingText, operationProblemText } from '../../words/operationText.ts'
import { usePlan, usePrefs } from '../context.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Act, Fields } from '../particulars/parts.tsx'
import type { TrimToChoice } from './trimToChoice.ts'

/** Brings an end of a track to another track: which end, which track, and which place when there are several. */
export function TrimToPart(props: { readonly choice: TrimToChoice; readonly onTrim: (meeting: TrackMeeting) => void }): ReactNode {
  const { end, others, chosen, place, meeting, choose } = props.choice
  const plan = usePlan((state) => state.plan)
  const prefs = usePrefs((state) => state)
  if (chosen === null) return null
  return (
    <>
      <Fields title="Bring to another track">
        <ChoiceField
          label="End"
          value={end}
          choices={[
            { value: 'start', text: 'the start' },
            { value: 'end', text: 'the end' },
          ]}
          onChoose={(name) => choose({ end: name })}
        />
        <ChoiceField
          label="To"
          value={chosen.other.track.id}
          choices={others.map(({ other: { track }, found }) => ({
            value: track.id,
            text: found.ok ? track.name : `${track.name} – not met`,
          }))}
          onChoose={(other) => choose({ other })}
        />
        {chosen.found.ok ? (
          <ChoiceField
            label="Where"
            value={String(place)}
            choices={chosen.found.meetings.map((one, i) => ({ value: String(i), text: meetingText(one, prefs) }))}
            onChoose={(i) => choose({ place: Number(i) })}
          />
        ) : null}
      </Fields>
      {chosen.found.ok ? null : (
        <p className="shape-note" role="status">
          {operationProblemText(chosen.found.problem, plan, prefs)}
        </p>
      )}
      {meeting === null ? null : (
        <div className="acts">
          <Act onClick={() => props.onTrim(meeting)}>{meeting.byMm > 0 ? 'Lengthen it to there' : 'Cut it off there'}</Act>
        </div>
      )}
    </>
  )
}
