/** A bug in our own code, never a fault of what the builder typed. The only class of the core. */
export class InvariantError extends Error {
  override readonly name = 'InvariantError'
}

/**
 * Holds a condition that our own code must keep.
 *
 * Throws: InvariantError when it does not hold. Not for user input: that becomes a problem as data.
 */
export function invariant(condition: boolean, message: string): asserts condition {
  if (!condition) throw new InvariantError(message)
}

/** Ends a switch over a union: a new kind fails to compile here until it is handled. */
export function assertNever(value: never): never {
  throw new InvariantError(`unhandled kind: ${JSON.stringify(value)}`)
}
