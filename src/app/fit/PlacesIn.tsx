import { useId, useMemo, useRef, useState } from 'react'
import type { ReactNode } from 'react'
import { boxOfPoints } from '../../core/geom/index.ts'
import { pointsRead } from '../../formats/pointsText.ts'
import type { PointFault, PointsRead } from '../../formats/pointsText.ts'
import { pointFaultText } from '../../words/pointsText.ts'
import { useSession, useStores } from '../context.ts'
import { useDesk, useDeskStore } from '../desk.ts'
import { ChoiceField } from '../fields/ValueField.tsx'
import { Act } from '../particulars/parts.tsx'
import { viewportShow } from '../viewportShow.ts'
import { surveyWith } from './survey.ts'
import type { Survey } from './survey.ts'
import { surveyFile } from './surveyFile.ts'

/** Faults told one by one; the rest is a number. */
const faultsShown = 4

/** How measured places come in: written or pasted, from a file, or pointed at on the plan. */
export function PlacesIn({
  survey,
  change,
}: {
  readonly survey: Survey
  readonly change: (to: (now: Survey) => Survey) => void
}): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const isPointing = useSession((session) => session.tool === 'survey')
  const setDesk = useDesk((desk) => desk.set)
  const [isWriting, setWriting] = useState(false)
  const [refused, setRefused] = useState<string | null>(null)
  const chooser = useRef<HTMLInputElement>(null)
  const id = useId()
  const { list, bare, places } = survey
  const read = useMemo(() => pointsRead(list, bare), [list, bare])
  const faults = faultsTold(read.faults, list, isWriting)

  function take(): void {
    if (read.points.length === 0) return
    // What could not be read stays in the field, to be mended.
    const left = faultyLines(read, list)
    change((now) => ({ ...surveyWith(now, read.points), list: left }))
    viewportShow(stores, boxOfPoints([...places, ...read.points]))
  }

  async function fileRead(file: File): Promise<void> {
    setRefused(await surveyFile(stores, desk, file))
  }

  function point(): void {
    stores.session.getState().setTool(isPointing ? 'select' : 'survey')
    if (!isPointing) setDesk({ drawer: null })
  }

  return (
    <section className="places-in" aria-label="Measured points">
      <label htmlFor={id}>Points, one a line: right, up</label>
      <textarea
        id={id}
        rows={places.length === 0 || list !== '' ? 6 : 2}
        spellCheck={false}
        autoComplete="off"
        value={list}
        placeholder={bare === 'in' ? '3′ 4 1/2″, 12′ 0″\n48.25, 144' : '1028.5, 3657\n1225.5, 3658'}
        aria-describedby={`${id}-faults`}
        onFocus={() => setWriting(true)}
        onBlur={() => setWriting(false)}
        onChange={(event) => {
          const text = event.currentTarget.value
          change((now) => ({ ...now, list: text }))
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) {
            event.preventDefault()
            take()
          }
        }}
      />
      <ChoiceField
        label="Plain numbers"
        value={bare}
        choices={[
          { value: 'in', text: 'are inches' },
          { value: 'mm', text: 'are millimetres' },
        ]}
        onChoose={(value) => change((now) => ({ ...now, bare: value }))}
      />
      <div id={`${id}-faults`} className="places-faults" role="status">
        {faults.length === 0 ? null : (
          <>
            {faults.slice(0, faultsShown).map((fault) => (
              <p key={fault.line}>{pointFaultText(fault)}</p>
            ))}
            {faults.length > faultsShown ? <p>And {faults.length - faultsShown} lines more.</p> : null}
          </>
        )}
        {refused === null ? null : <p>{refused}</p>}
      </div>
      <div className="acts">
        <Act isMain={read.points.length > 0} isDisabled={read.points.length === 0} onClick={take}>
          {takeWords(read.points.length, read.faults.length)}
        </Act>
      </div>
      <div className="acts">
        <Act onClick={() => chooser.current?.click()}>From a file…</Act>
        <button type="button" className="act" aria-pressed={isPointing} onClick={point}>
          Point at them
        </button>
      </div>
      {isPointing ? (
        <p className="hint">
          Click each place on the plan, or type it: {bare === 'in' ? '12in; 8in' : '300mm; 200mm'} from the corner of the plan. Enter ends
          it.
        </p>
      ) : null}
      <input
        ref={chooser}
        type="file"
        hidden
        accept=".csv,.tsv,.txt,text/csv,text/plain"
        aria-label="File of measured points"
        onChange={(event) => {
          const input = event.currentTarget
          const [file] = input.files ?? []
          if (file !== undefined) void fileRead(file)
          // The same file may be chosen again once it is mended.
          input.value = ''
        }}
      />
    </section>
  )
}

function takeWords(points: number, faults: number): string {
  if (points === 0) return 'Take these points'
  const many = points === 1 ? 'this point' : `these ${points} points`
  return faults === 0 ? `Take ${many}` : `Take the ${points} that can be read`
}

/** The line that is being written is not called wrong before it is done. */
function faultsTold(faults: readonly PointFault[], list: string, isWriting: boolean): readonly PointFault[] {
  const open = list.split(/\r\n|\r|\n/).length
  return isWriting ? faults.filter(({ line }) => line !== open) : faults
}

/** What could not be read, under its headings: they may name the units. */
function faultyLines({ points, faults }: PointsRead, list: string): string {
  if (faults.length === 0) return ''
  const lines = list.split(/\r\n|\r|\n/)
  const first = Math.min(points[0]?.line ?? Infinity, faults[0]?.line ?? Infinity)
  return [...lines.slice(0, first - 1), ...faults.map(({ line }) => lines[line - 1] ?? '')].join('\n')
}
