/** jsdom has no pointer events; testing-library makes them of this if it is there. */
export class HandPointer extends MouseEvent {
  readonly pointerId: number
  readonly isPrimary = true
  constructor(kind: string, init: PointerEventInit = {}) {
    super(kind, init)
    this.pointerId = init.pointerId ?? 0
  }
}
