/** The first field in a form whose entry is refused, given the hand; false: all that stands there has been taken. */
export function refusedShown(form: Element | null): boolean {
  const field = form?.querySelector<HTMLElement>('[aria-invalid="true"]') ?? null
  field?.focus()
  return field !== null
}
