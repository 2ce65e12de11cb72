import type { StoreApi } from 'zustand/vanilla'
import { selectedTrack } from '../../store/selection.ts'
import { tableWord } from '../../words/names.ts'
import type { Stores } from '../context.ts'
import type { DeskState } from '../desk.ts'
import { planBoxOfRecord } from '../places.ts'
import { isLayingStage, stageOrder } from '../stages/stageWords.ts'
import { viewportShow } from '../viewportShow.ts'
import type { Action } from './action.ts'

/** Tables whose records are gone to by their names. */
const goTables = [
  'tracks',
  'turnouts',
  'makers',
  'benchworks',
  'walls',
  'obstacles',
  'openings',
  'hatches',
  'joists',
  'portals',
  'guides',
  'readings',
  'underlays',
  'lineClasses',
  'vehicles',
  'stocks',
  'materials',
] as const

/** Stages, panels and records, gone to by their names. */
export function goActions(stores: Stores, desk: StoreApi<DeskState>): readonly Action[] {
  const session = stores.session.getState()
  const { plan } = stores.plan.getState()
  /** On a narrow screen what is gone to is drawn up. */
  const up = (drawer: NonNullable<DeskState['drawer']>): void => desk.getState().set({ drawer })
  const stages = stageOrder.map(
    ({ name, word }): Action => ({
      id: `stage-${name}`,
      group: 'Go to',
      words: `Stage: ${word}`,
      isPossible: true,
      run() {
        session.setStage(name)
        up('stage')
      },
    }),
  )
  const named = goTables.flatMap((table) =>
    Object.values(plan[table]).map(
      (record): Action => ({
        id: `${table}-${record.id}`,
        group: 'Go to',
        words: `Go to ${record.name}`,
        also: tableWord(table),
        isRecord: true,
        isPossible: true,
        run() {
          session.setTool('select')
          session.select({ kind: 'record', table, id: record.id })
          viewportShow(stores, planBoxOfRecord(stores, table, record.id))
          up('particulars')
        },
      }),
    ),
  )
  return [
    ...stages,
    {
      id: 'railway',
      group: 'Go to',
      words: 'Railway: scale, gauge, rail',
      isPossible: true,
      run() {
        if (isLayingStage(session.stage)) session.setStage('room')
        session.select({ kind: 'none' })
        up('particulars')
      },
    },
    {
      id: 'grades',
      group: 'Go to',
      words: 'Grades: the steepest of a line class',
      about: 'only a helix climbs; other tracks lie level',
      isPossible: Object.keys(plan.lineClasses).length > 0,
      run() {
        const track = plan.tracks[selectedTrack(session.selection) ?? ''] ?? Object.values(plan.tracks)[0]
        const id = track?.lineClass ?? Object.keys(plan.lineClasses)[0]
        if (id === undefined) return
        session.setStage('line')
        session.select({ kind: 'record', table: 'lineClasses', id })
        up('particulars')
      },
    },
    {
      id: 'laying-rules',
      group: 'Go to',
      words: 'Rules of laying: joints, cutting, climate, spikes, pace',
      also: 'stagger, kerf, offcut, temperature, humidity, expansion, ramp, shim, rates',
      isPossible: true,
      run() {
        if (!isLayingStage(session.stage)) session.setStage('track')
        session.select({ kind: 'none' })
        up('particulars')
      },
    },
    {
      id: 'lists',
      group: 'Go to',
      words: 'Lists of what to cut and to buy',
      isPossible: true,
      run() {
        if (!isLayingStage(session.stage)) session.setStage('track')
        desk.getState().set({ layingShows: 'lists' })
      },
    },
    { id: 'report', group: 'Go to', words: 'Report of the checks', isPossible: true, run: () => session.setStage('checks') },
    ...named,
    {
      id: 'finder',
      group: 'Go to',
      words: 'Find any action',
      isPossible: true,
      run: () => desk.getState().set({ dialog: 'finder' }),
    },
  ]
}
