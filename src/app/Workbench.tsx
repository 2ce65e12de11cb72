import type { ReactNode } from 'react'
import type { StoreApi } from 'zustand/vanilla'
import type { Engine } from '../engine/protocol.ts'
import { App } from './App.tsx'
import { StoresContext } from './context.ts'
import type { Stores } from './context.ts'
import { DeskContext } from './desk.ts'
import type { DeskState } from './desk.ts'
import { EngineContext } from './engine.ts'

interface WorkbenchProps {
  readonly stores: Stores
  readonly desk: StoreApi<DeskState>
  readonly engine: Engine
}

/** The desk with everything that it stands on. */
export function Workbench({ stores, desk, engine }: WorkbenchProps): ReactNode {
  return (
    <StoresContext value={stores}>
      <DeskContext value={desk}>
        <EngineContext value={engine}>
          <App />
        </EngineContext>
      </DeskContext>
    </StoresContext>
  )
}
