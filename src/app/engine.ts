import { createContext, useContext } from 'react'
import type { Engine } from '../engine/protocol.ts'

/** The engine that does the heavy work, handed down so that a test can give its own. */
export const EngineContext = createContext<Engine | null>(null)

export function useEngine(): Engine {
  const engine = useContext(EngineContext)
  if (engine === null) throw new Error('useEngine outside of EngineContext')
  return engine
}
