/** A bug in our own code, never a fault of what the builder typed. The only class of the core. */
export class InvariantError extends Error {
  override readonly name = 'InvariantError'
}

/**
 * Holds a condition that our own code must keep. A message that carries numbers comes as a function: writing them out costs more than
 * most of what is guarded, and is done only when the condition fails.
 *
 * Throws: InvariantError when it does not hold. Not for user input: that becomes a problem as data.
 */
export function invariant(condition: boolean, message: string | (() => string)): asserts condition {
  if (!condition) throw new InvariantError(typeof message === 'string' ? message : message())
}

/** Ends a switch over a union: a new kind fails to compile here until it is handled. */
export function assertNever(value: never): never {
  throw new InvariantError(`unhandled kind: ${JSON.stringify(value)}`)
}
