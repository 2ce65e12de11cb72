import { useState } from 'react'
import type { ReactNode } from 'react'
import { Heading } from 'react-aria-components'
import { planLinkRead } from '../../formats/planLink.ts'
import { planFileProblemText } from '../../words/fileText.ts'
import { Sheet } from '../commands/Sheet.tsx'
import { useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { planBeforeText, planPut } from '../file/planFile.ts'
import { Act } from '../particulars/acts.tsx'
import { Thumb } from '../shelf/Thumb.tsx'
import { linkMark } from './linkMark.ts'
import '../shelf/shelf.css'

/** A plan came by a link: it is opened only if the person says so. */
export default function SharedSheet(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const [read] = useState(() => planLinkRead(location.hash.slice(1 + linkMark.length)))
  const shut = (): void => {
    // Done with: a page that is loaded again does not ask again.
    history.replaceState(null, '', location.pathname + location.search)
    desk.getState().set({ dialog: null })
  }
  if (!read.ok) {
    return (
      <Sheet onShut={shut}>
        <Heading slot="title">The plan in this link cannot be opened</Heading>
        <p role="alert">{planFileProblemText(read.problem)} The plan on the desk is untouched.</p>
        <div className="acts">
          <Act onClick={shut}>Close</Act>
        </div>
      </Sheet>
    )
  }
  const { plan } = read
  return (
    <Sheet onShut={shut}>
      <Heading slot="title">A plan came with this link: {plan.railway.title}</Heading>
      <Thumb plan={plan} />
      <p>If you open it, it is a plan beside yours. {planBeforeText(desk)}</p>
      <div className="acts">
        <Act
          isMain
          onClick={() => {
            shut()
            planPut(stores, desk, { plan, notice: `${plan.railway.title} is on the desk, from a link.` })
          }}
        >
          Open it
        </Act>
        <Act onClick={shut}>Leave it</Act>
      </div>
    </Sheet>
  )
}
