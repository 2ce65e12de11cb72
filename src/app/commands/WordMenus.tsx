import { useCallback, useState } from 'react'
import type { ReactNode } from 'react'
import { Button, I18nProvider, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { withKeys } from './action.ts'
import type { Action } from './action.ts'
import { lookActions } from './lookActions.ts'
import type { MenuWord } from './Menus.tsx'
import { planActions } from './planActions.ts'

/** The two menus, as words: what concerns the plan as a file, and how it looks. `opened`: the one that was asked for. */
export default function WordMenus({ opened }: { readonly opened: MenuWord }): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  return (
    <I18nProvider locale="en-US">
      <WordMenu word="File" isFirst={opened === 'File'} actionsOf={() => withKeys(stores, planActions(stores, desk))} />
      <WordMenu word="View" isFirst={opened === 'View'} actionsOf={() => withKeys(stores, lookActions(stores, desk))} />
    </I18nProvider>
  )
}

function WordMenu({
  word,
  isFirst,
  actionsOf,
}: {
  readonly word: MenuWord
  readonly isFirst: boolean
  readonly actionsOf: () => readonly Action[]
}): ReactNode {
  // Read when it opens: the desk need not follow every change for a menu that is shut.
  const [actions, setActions] = useState(actionsOf)
  const [isOpen, setOpen] = useState(false)
  // It stands where the plain word stood that was pressed: the focus is its own before it opens, so that it comes back when it shuts.
  const stands = useCallback(
    (trigger: HTMLButtonElement | null) => {
      if (trigger === null || !isFirst) return
      trigger.focus({ preventScroll: true })
      setOpen(true)
    },
    [isFirst],
  )
  function onOpenChange(willOpen: boolean): void {
    if (willOpen) setActions(actionsOf())
    setOpen(willOpen)
  }
  return (
    <MenuTrigger isOpen={isOpen} onOpenChange={onOpenChange}>
      <Button ref={stands} className="word menu-word">
        {word}
      </Button>
      <Popover className="menu-popover" placement="bottom start" offset={6}>
        <Menu className="menu" aria-label={word} disabledKeys={actions.filter((action) => !action.isPossible).map((action) => action.id)}>
          {actions.map((action) => (
            <MenuItem key={action.id} id={action.id} textValue={action.words} className="menu-item" onAction={() => action.run()}>
              <span>{action.words}</span>
              {word === 'View' && !action.isPossible ? (
                <span className="soft small">now</span>
              ) : action.keys === undefined ? null : (
                <span className="soft small">{action.keys}</span>
              )}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}
