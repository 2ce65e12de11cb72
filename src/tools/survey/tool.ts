import type { Point } from '../../core/geom/types.ts'
import { chainSketch, isSamePlace } from '../shared/chain.ts'
import { entryPoint } from '../shared/entry.ts'
import { layDown, noHint, stay } from '../shared/steps.ts'
import type { Step, Tool, ToolContext, ToolEvent } from '../types.ts'

/*
 * Points at measured places, one after the other. Nothing of it is in the plan: who fits a line to them gathers them. A measured
 * place is where it is, so that nothing draws the pointer.
 */

interface SurveyState {
  /** Pointed at since the tool was taken up; typed measures go on from the last one. */
  readonly points: readonly Point[]
  readonly pointer: Point | null
  readonly isDown: boolean
}

const fresh: SurveyState = { points: [], pointer: null, isDown: false }

export const surveyTool: Tool<SurveyState> = {
  name: 'survey',
  initial: fresh,
  step: surveyStep,
  sketch: ({ points, pointer }) => {
    // The points themselves are drawn by who gathers them.
    const last = points.at(-1)
    const sketch = chainSketch(last === undefined ? [] : [last], pointer, null, 'construction')
    return sketch.filter(({ kind }) => kind === 'chain' || kind === 'measure')
  },
  entry: () => 'point',
  offer: ({ points }) => ({ kind: 'survey', points: points.length }),
  cursor: () => 'draw',
  takesDrag: () => true,
}

function surveyStep(state: SurveyState, event: ToolEvent, context: ToolContext): Step<SurveyState> {
  switch (event.kind) {
    case 'pointerDown':
      return stay({ ...state, pointer: event.at, isDown: true })
    case 'pointerMove':
      return stay({ ...state, pointer: event.at })
    case 'pointerUp': {
      const next = { ...state, pointer: event.at, isDown: false }
      return state.isDown && !isSamePlace(context, event.at, state.points.at(-1)) ? withPoint(next, event.at) : stay(next)
    }
    case 'pointerLeave':
      return stay({ ...state, pointer: null, isDown: false })
    case 'key':
      return event.key === 'Backspace' && state.points.length > 0 ? withoutLast(state) : stay(state)
    case 'entryChange': {
      const typed = typedPoint(state, event.text, context)
      return stay(typed.ok ? { ...state, pointer: typed.point } : state)
    }
    case 'entry': {
      const typed = typedPoint(state, event.text, context)
      return typed.ok
        ? withPoint({ ...state, pointer: typed.point }, typed.point)
        : { state, effects: [{ kind: 'hint', hint: { kind: 'entry', refusal: typed.refusal } }] }
    }
    case 'cancel':
    case 'complete':
      return { state: fresh, effects: [noHint, layDown] }
    case 'interrupt':
      return { state: fresh, effects: [noHint] }
    // The second click of two is the point just set.
    case 'doubleClick':
    case 'option':
      return stay(state)
  }
}

const typedPoint = ({ points, pointer }: SurveyState, text: string, { units }: ToolContext): ReturnType<typeof entryPoint> =>
  entryPoint(text, { from: points.at(-1) ?? null, towards: pointer, units })

function withPoint(state: SurveyState, at: Point): Step<SurveyState> {
  return { state: { ...state, points: [...state.points, at] }, effects: [{ kind: 'measured', change: { kind: 'add', at } }, noHint] }
}

function withoutLast(state: SurveyState): Step<SurveyState> {
  return { state: { ...state, points: state.points.slice(0, -1) }, effects: [{ kind: 'measured', change: { kind: 'takeBack' } }, noHint] }
}
