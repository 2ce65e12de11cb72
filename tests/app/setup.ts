import { configure } from '@testing-library/react'

// What comes late (a lazy part, an answer of the engine) comes later still on a machine that does other work as well.
configure({ asyncUtilTimeout: 20_000 })

// What a browser has and the page of these tests has not.
globalThis.CSS ??= { escape: (text: string) => text } as typeof CSS
URL.createObjectURL ??= () => 'blob:picture'
URL.revokeObjectURL ??= () => undefined
// A test of files alone has no page.
if (typeof Element !== 'undefined') Element.prototype.checkVisibility ??= () => true
