import type { StoreApi } from 'zustand/vanilla'
import { lowerFirst } from '../../words/names.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { drawingChoose } from '../file/fileDropped.ts'
import { demoLoad, planChoose, planSave, planTakeBack } from '../file/planFile.ts'
import { canSameFile, sameFileName, sameFileSave } from '../file/sameFile.ts'
import { undoAct, undoWord } from '../undoNow.ts'
import type { Action } from './action.ts'

/** What is done with the plan as a whole. */
export function planActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const { laidAside } = desk.getState()
  const fileName = sameFileName(stores)
  return [
    { id: 'new', group: 'Plan', words: 'New room…', isPossible: true, run: () => desk.getState().set({ dialog: 'newRoom' }) },
    {
      id: 'shelf',
      group: 'Plan',
      words: 'Plans in this browser…',
      also: 'shelf several rename duplicate delete versions compare earlier backup',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'shelf' }),
    },
    { id: 'open', group: 'Plan', words: 'Open a plan file…', isPossible: true, run: () => planChoose(stores, desk) },
    { id: 'save', group: 'Plan', words: 'Save plan to a file', isPossible: true, run: () => planSave(stores) },
    {
      id: 'same-file',
      group: 'Plan',
      words: fileName === null ? 'Save into a file of yours…' : `Save again into ${fileName}`,
      also: 'overwrite same file',
      isPossible: canSameFile(),
      needs: 'a browser that lets pages write into files',
      run: () => void sameFileSave(stores),
    },
    {
      id: 'share',
      group: 'Plan',
      words: 'The plan as a link…',
      also: 'share send URL address',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'share' }),
    },
    {
      id: 'import',
      group: 'Plan',
      words: 'Take in a drawing or lines…',
      also: 'import DXF LandXML IFC',
      isPossible: true,
      run: () => drawingChoose(desk),
    },
    {
      id: 'export',
      group: 'Plan',
      words: 'Save for other programs…',
      also: 'export DXF SVG LandXML IFC drawing CAD',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'export' }),
    },
    {
      id: 'print-plan',
      group: 'Plan',
      words: 'Print the plan on one page…',
      also: 'paper picture overview print view',
      isPossible: true,
      run: () => void import('../print/planPrint.ts').then(({ planPrint }) => planPrint(stores)),
    },
    {
      id: 'jigs',
      group: 'Plan',
      words: 'Jigs to print or cut…',
      also: 'STL 3MF plastic printer solid template gauge fixture laser',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'jigs' }),
    },
    { id: 'demo', group: 'Plan', words: 'Load the demo railway', isPossible: true, run: () => void demoLoad(stores, desk) },
    {
      id: 'back',
      group: 'Plan',
      words: 'Take back the plan from before',
      isPossible: laidAside !== null,
      run: () => planTakeBack(stores, desk),
    },
  ]
}

/** Back and forth. */
export function stepActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const { undoStack, redoStack, redo } = stores.plan.getState()
  const last = undoWord(desk.getState().pointBack, undoStack.at(-1)?.label ?? null)
  const next = redoStack.at(-1)
  return [
    {
      id: 'undo',
      group: 'Steps',
      words: last === null ? 'Undo' : `Undo: ${lowerFirst(last)}`,
      isPossible: last !== null,
      run: () => undoAct(stores, desk)(),
    },
    {
      id: 'redo',
      group: 'Steps',
      words: next === undefined ? 'Redo' : `Redo: ${lowerFirst(next.label)}`,
      isPossible: next !== undefined,
      run: () => void redo(),
    },
    {
      id: 'steps',
      group: 'Steps',
      words: 'Steps taken…',
      also: 'history, undo, redo, back, versions',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'steps' }),
    },
  ]
}
