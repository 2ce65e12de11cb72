import { useState } from 'react'
import type { ReactNode } from 'react'
import { Autocomplete, Input, Menu, MenuItem, SearchField, useFilter } from 'react-aria-components'
import { useStores } from '../context.ts'
import { useDeskStore } from '../desk.ts'
import { actionsNow } from './actions.ts'
import type { Action } from './action.ts'
import { Sheet } from './Sheet.tsx'

/** What cannot be done now is shown where it can say what to do first. */
const isListed = ({ isPossible, needs }: Action): boolean => isPossible || needs !== undefined

/** As if it were typed there now: the first of what is found is then the one that Enter does. */
function typeInto(field: HTMLInputElement, text: string): void {
  const typed = { bubbles: true, inputType: 'insertText', data: text } as const
  field.dispatchEvent(new InputEvent('beforeinput', typed))
  Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set?.call(field, text + field.value)
  field.dispatchEvent(new InputEvent('input', typed))
}

/** Every action by its words: type a few letters, Enter does it. */
export default function Finder(): ReactNode {
  const stores = useStores()
  const desk = useDeskStore()
  const [actions] = useState(() => actionsNow(stores, desk).filter((action) => action.id !== 'finder' && isListed(action)))
  const { contains } = useFilter({ sensitivity: 'base' })
  function onFocus(field: HTMLInputElement): void {
    const { finderText, set } = desk.getState()
    if (finderText === '') return
    set({ finderText: '' })
    // Once what listens to the field has heard of it.
    setTimeout(() => typeInto(field, finderText))
  }
  const close = (): void => desk.getState().set({ dialog: null, finderText: '' })
  return (
    <Sheet label="Find any action" look="finder" onShut={close}>
      {/* The field would empty itself first; one Escape shuts it. */}
      {/* oxlint-disable-next-line jsx-a11y/no-static-element-interactions */}
      <div
        className="finder-keys"
        onKeyDownCapture={(event) => {
          if (event.key !== 'Escape') return
          event.preventDefault()
          event.stopPropagation()
          close()
        }}
      >
        <Autocomplete filter={(text, typed) => typed.split(/\s+/).every((part) => contains(text, part))}>
          {/* oxlint-disable-next-line jsx-a11y/no-autofocus -- the finder is opened to be typed into */}
          <SearchField aria-label="Find any action" autoFocus>
            <Input className="finder-input" placeholder="What do you want to do?" onFocus={(event) => onFocus(event.currentTarget)} />
          </SearchField>
          {/* The list scrolls and is gone through from the field; who reads by scrolling must be able to stand in it. */}
          {/* oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex */}
          <div className="finder-list" role="group" aria-label="All actions" tabIndex={0}>
            <Menu
              className="menu"
              aria-label="Actions"
              items={actions}
              disabledKeys={actions.filter(({ isPossible }) => !isPossible).map(({ id }) => id)}
              renderEmptyState={() => <p className="soft finder-none">Nothing is called that.</p>}
            >
              {(action) => (
                <MenuItem
                  id={action.id}
                  textValue={`${action.words} ${action.about ?? ''} ${action.also ?? ''} ${action.group}`}
                  className="menu-item"
                  onAction={() => {
                    close()
                    action.run()
                  }}
                >
                  <span>{action.words}</span>
                  <span className="soft small">{action.isPossible ? (action.keys ?? action.about ?? action.group) : action.needs}</span>
                </MenuItem>
              )}
            </Menu>
          </div>
        </Autocomplete>
      </div>
    </Sheet>
  )
}
