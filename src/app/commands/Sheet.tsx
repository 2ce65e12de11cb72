import type { ReactNode } from 'react'
import { Dialog, I18nProvider, Modal, ModalOverlay } from 'react-aria-components'

/**
 * A sheet of words over the desk, shut by Escape or a click beside it. The words are English: a browser set to something
 * odd must not keep it from opening, hence the fixed language.
 */
export function Sheet(props: {
  readonly onShut: () => void
  readonly label?: string
  readonly look?: 'finder' | 'setout' | 'gallery' | 'jigs' | 'room' | 'shelf'
  readonly children: ReactNode
}): ReactNode {
  return (
    <I18nProvider locale="en-US">
      <ModalOverlay className="veil" isOpen isDismissable onOpenChange={(isOpen) => (isOpen ? undefined : props.onShut())}>
        <Modal className={`sheet-of-words${props.look === undefined ? '' : ` is-${props.look}`}`}>
          <Dialog {...(props.label === undefined ? {} : { 'aria-label': props.label })}>{props.children}</Dialog>
        </Modal>
      </ModalOverlay>
    </I18nProvider>
  )
}
