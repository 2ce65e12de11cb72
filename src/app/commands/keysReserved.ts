const ofBrowser = 'CFGHJLNPQRTUVWX0123456789+-='

/** Why keys cannot be given to an action, as a sentence; null when they can. */
export function keysReserved(keys: string): string | null {
  const words = keys.split(' ')
  const last = words.at(-1) ?? ''
  if (words.includes('Alt')) return 'Keys with Alt belong to the browser and the system. Take Ctrl, Shift or a single key.'
  if (words[0] === 'Ctrl')
    return ofBrowser.includes(last) || last.length > 1
      ? `${keys} belongs to the browser. Take Ctrl with another letter, or a single key.`
      : null
  if (/^(Escape|Enter|Tab|Space|Backspace|Arrow.*)$/.test(last)) return `${keys} is needed for drawing and for going about. Take another.`
  if (/^F\d+$/.test(last)) return `${keys} belongs to the browser. Take a letter, alone or with Ctrl.`
  if (/^[0-9.<@#+=_¼½¾⅛⅜⅝⅞-]$/.test(last)) return `${keys} begins a measure or zooms. Take a letter, alone or with Ctrl.`
  if (last === 'R') return `${keys} begins a radius. Take another letter.`
  if (last === 'T') return `${keys} throws the points before a car that is pushed. Take another letter.`
  return null
}
