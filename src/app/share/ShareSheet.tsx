import { useMemo, useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { linkLimit, planLinkWrite } from '../../formats/planLink.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { usePlan, useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { planSave } from '../file/planFile.ts'
import { Act } from '../particulars/acts.tsx'
import { linkMark } from './linkMark.ts'

/** The plan as a link to be handed on; the plan is in the link itself. */
export default function ShareSheet(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const plan = usePlan((state) => state.committed)
  const text = useMemo(() => planLinkWrite(plan), [plan])
  const [said, setSaid] = useState('')
  const shut = (): void => desk.getState().set({ dialog: null })
  const link = `${location.href.replace(/#.*$/, '')}#${linkMark}${text}`

  async function copy(): Promise<void> {
    try {
      await navigator.clipboard.writeText(link)
      setSaid('The link is copied.')
    } catch {
      setSaid('This browser does not let the page copy: take the link from the field.')
    }
  }

  return (
    <Sheet onShut={shut}>
      <Heading slot="title">The plan as a link</Heading>
      {text.length > linkLimit ? (
        <>
          <p role="alert">
            This plan makes a link of {count(text.length)} characters; links over {count(linkLimit)} are cut short on their way. Hand it on
            as a file.
          </p>
          <div className="acts">
            <Act
              isMain
              onClick={() => {
                planSave(stores)
                shut()
              }}
            >
              Save plan to a file
            </Act>
            <Act onClick={shut}>Close</Act>
          </div>
        </>
      ) : (
        <>
          <p>
            The whole plan is in the link, as it is now, {count(text.length)} characters of at most {count(linkLimit)}. Nothing is sent
            anywhere: who has the link has the plan.
          </p>
          <input aria-label="Link" readOnly value={link} onFocus={({ target }) => target.select()} />
          <div className="acts">
            <Act isMain onClick={() => void copy()}>
              Copy the link
            </Act>
            <Act onClick={shut}>Close</Act>
          </div>
          <p role="status" className="soft small">
            {said}
          </p>
        </>
      )}
    </Sheet>
  )
}

const count = (characters: number): string => characters.toLocaleString('en-US')
