import type { LineClass } from '../../core/plan/types.ts'

/** The weight of a class's line from afar: the classes a railway starts with differ, one's own have the usual weight. */
export function lineWeight({ id }: LineClass): 'main' | 'usual' | 'light' {
  if (id === 'main') return 'main'
  return id === 'yard' || id === 'siding' ? 'light' : 'usual'
}
