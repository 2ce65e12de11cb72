import { useRef } from 'react'
import type { ReactNode } from 'react'
import { Header, I18nProvider, Menu, MenuItem, MenuSection, Popover } from 'react-aria-components'
import type { Action } from '../commands/action.ts'
import type { PlaceActions } from './placeActions.ts'

/** What can be done at a place of the plan, as a menu there. */
export default function PlaceMenu({ parts, onShut }: { readonly parts: PlaceActions; readonly onShut: () => void }): ReactNode {
  const anchor = useRef<HTMLDivElement>(null)
  const run = (action: Action) => (): void => {
    onShut()
    action.run()
  }
  const section = (heading: string, actions: readonly Action[]): ReactNode =>
    actions.length === 0 ? null : (
      <MenuSection className="menu-section" aria-label={heading}>
        <Header className="soft small">{heading}</Header>
        {actions.map((action) => (
          <MenuItem key={action.id} id={action.id} textValue={action.words} className="menu-item" onAction={run(action)}>
            <span>{action.words}</span>
            {action.keys === undefined ? null : <span className="soft small">{action.keys}</span>}
          </MenuItem>
        ))}
      </MenuSection>
    )
  return (
    <I18nProvider locale="en-US">
      <div ref={anchor} className="menu-anchor" style={{ left: parts.place.left, top: parts.place.top }} />
      <Popover
        className="menu-popover"
        triggerRef={anchor}
        placement="bottom start"
        offset={2}
        isOpen
        onOpenChange={(isOpen) => (isOpen ? undefined : onShut())}
      >
        {/* oxlint-disable-next-line jsx-a11y/no-autofocus -- it was asked for, to be chosen from */}
        <Menu className="menu" aria-label={parts.name ?? 'What can be done here'} autoFocus="first" onClose={onShut}>
          {section(parts.name ?? '', parts.chosen)}
          {section('Also here', parts.others)}
          {section('Here', parts.here)}
          {section('The plan', parts.always)}
        </Menu>
      </Popover>
    </I18nProvider>
  )
}
