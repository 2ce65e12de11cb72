// What the tests that run in node read markup with; the package brings no types of its own.
declare module 'jsdom' {
  export class JSDOM {
    constructor(text?: string, options?: { readonly contentType?: string })
    readonly window: { readonly document: Document; readonly DOMParser: typeof DOMParser }
  }
}
