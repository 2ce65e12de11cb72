/**
 * Keys as they come: the one table of them. Where an action has two, the first is shown. Backspace, which takes out as Delete does, and
 * Escape are not here: every tool needs them.
 */
const usualKeys: readonly (readonly [keys: string, action: string])[] = [
  ['Ctrl O', 'open'],
  ['Ctrl S', 'save'],
  ['Ctrl P', 'print-plan'],
  ['Ctrl Z', 'undo'],
  ['Ctrl Shift Z', 'redo'],
  ['Ctrl Y', 'redo'],
  ['Ctrl A', 'choose-stage'],
  ['Ctrl D', 'copy'],
  ['P', 'push'],
  ['B', 'bands'],
  ['Delete', 'remove'],
  ['Home', 'whole'],
  ['/', 'finder'],
  ['Ctrl K', 'finder'],
]

/** The keys of one's own, by the id of the action that they are for. */
export type OwnKeys = { readonly [action: string]: string }

export type Pressed = Pick<KeyboardEvent, 'key' | 'shiftKey' | 'ctrlKey' | 'metaKey' | 'altKey'>

/** What is pressed, in the words of a keyboard: 'Ctrl Shift Z', 'P', 'Home'. Null: a key that only goes with others. */
export function keysOfPress({ key, shiftKey, ctrlKey, metaKey, altKey }: Pressed): string | null {
  if (['Control', 'Shift', 'Alt', 'AltGraph', 'Meta', 'CapsLock', 'Dead', 'Unidentified'].includes(key)) return null
  const isSign = key.length === 1 && key.toLowerCase() === key.toUpperCase()
  const held = [ctrlKey || metaKey ? 'Ctrl' : '', altKey ? 'Alt' : '', shiftKey && !isSign ? 'Shift' : '']
  return [...held.filter((word) => word !== ''), key === ' ' ? 'Space' : key.length === 1 ? key.toUpperCase() : key].join(' ')
}

/** The action that keys are for, or null. */
export function actionOfKeys(keys: string, own: OwnKeys): string | null {
  const mine = Object.keys(own).find((action) => own[action] === keys)
  const usual = usualKeys.find(([one, action]) => one === keys && own[action] === undefined)
  return mine ?? usual?.[1] ?? null
}

/**
 * What a press does by the usual keys; null: nothing, or what it did has keys of one's own now. Shift makes another action of it where the
 * table says so and no difference elsewhere.
 */
export function usualActionOf(press: Pressed, own: OwnKeys): string | null {
  const of = (keys: string | undefined): string | undefined => usualKeys.find(([one]) => one === keys)?.[1]
  const keys = keysOfPress(press) ?? undefined
  const action = of(keys) ?? of(keys?.replace('Shift ', ''))
  return action === undefined || own[action] !== undefined ? null : action
}

/** The keys that an action has now. */
export function keysOfAction(action: string, own: OwnKeys): string | undefined {
  return own[action] ?? usualKeys.find(([, one]) => one === action)?.[0]
}

/** Keys of one's own without those of this action: it has its usual ones again, or what has taken those keeps them. */
export function keysAsUsual(action: string, own: OwnKeys): { readonly own: OwnKeys } | { readonly takenBy: string } {
  const { [action]: _, ...others } = own
  const usual = keysOfAction(action, {})
  const by = usual === undefined ? undefined : Object.keys(others).find((one) => others[one] === usual)
  return by === undefined ? { own: others } : { takenBy: by }
}

/** Are these the usual keys of something that has been given others? Then nothing is to come of them. */
export function isGivenUp(keys: string, own: OwnKeys): boolean {
  return actionOfKeys(keys, own) === null && usualKeys.some(([one]) => one === keys)
}
