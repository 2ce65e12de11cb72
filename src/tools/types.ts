import type { Alignment } from '../core/alignment/types.ts'
import type { EditProblem, PlanCommand } from '../core/edit/types.ts'
import type { Point, Pose } from '../core/geom/types.ts'
import type { CornerRoom } from './shared/cornerRoom.ts'
import type { NetworkTurnout } from '../core/network/types.ts'
import type { Derived } from '../core/pipeline/types.ts'
import type { DoorLeaf, Facing, Hand, Id, Plan, ReadingOf, TrackEndName, TurnoutKind, TurnoutLeg } from '../core/plan/types.ts'
import type { StretchProblem } from '../core/stretch/index.ts'
import type { EntryProblem } from '../core/units/index.ts'
import type { Hideable } from '../store/hidden.ts'
import type { Prefs, Selection, ToolName } from '../store/types.ts'

export interface Modifiers {
  readonly shift: boolean
  /** Ctrl, or Cmd; absent: not held. With it a click takes in or leaves out, as with Shift. */
  readonly ctrl?: boolean
  /** Alt suspends all snapping. */
  readonly alt: boolean
}

/** What a hand did, in plan millimetres. The canvas makes these; a test or a script can make them as well. */
export type ToolEvent =
  | { readonly kind: 'pointerDown'; readonly at: Point; readonly modifiers: Modifiers }
  | { readonly kind: 'pointerMove'; readonly at: Point; readonly modifiers: Modifiers }
  | { readonly kind: 'pointerUp'; readonly at: Point; readonly modifiers: Modifiers }
  /** The pointer is gone, or what it pressed turned out to be something else (a pinch): a drag is given up, a drawing stays. */
  | { readonly kind: 'pointerLeave' }
  | { readonly kind: 'doubleClick'; readonly at: Point; readonly modifiers: Modifiers }
  /** A key that no text field took; `key` as the keyboard standard names it ("Delete", "ArrowLeft", "h"). */
  | { readonly kind: 'key'; readonly key: string; readonly modifiers: Modifiers }
  /** Text in the field at the pointer: while it is typed, and when Enter ends it. */
  | { readonly kind: 'entryChange'; readonly text: string }
  | { readonly kind: 'entry'; readonly text: string }
  /** A switch of the tool's own, set from the strip: "hand", "left". */
  | { readonly kind: 'option'; readonly change: ToolOption }
  /** Escape: give up what is under way. */
  | { readonly kind: 'cancel' }
  /** Enter: it is done. */
  | { readonly kind: 'complete' }
  /** The tool is taken out of the hand: another tool, focus lost, another plan. Nothing may stay open. */
  | { readonly kind: 'interrupt' }

/** What is set in a wall: with a leaf, without one, or over a sill. */
export type OpeningOf = 'door' | 'passage' | 'window'

export type ToolOption =
  | { readonly kind: 'hand'; readonly hand: Hand }
  | { readonly kind: 'facing'; readonly facing: Facing }
  | { readonly kind: 'kind'; readonly of: TurnoutKind['kind'] }
  | { readonly kind: 'frog'; readonly frog: number }
  | { readonly kind: 'lineClass'; readonly lineClass: Id }
  /** A track is taken up at an end to be drawn on. */
  | { readonly kind: 'drawOn'; readonly track: Id; readonly end: TrackEndName }
  | { readonly kind: 'leaf'; readonly of: OpeningOf }
  | { readonly kind: 'hinge'; readonly hinge: DoorLeaf['hinge'] }
  /** The next drag draws a frame around what is to be chosen. */
  | { readonly kind: 'box' }
  | { readonly kind: 'measure'; readonly of: ReadingOf['kind'] }

/** What a tool asks for. It never touches a store itself. */
export type ToolEffect =
  | { readonly kind: 'begin'; readonly label: string }
  | { readonly kind: 'replace'; readonly command: PlanCommand }
  | { readonly kind: 'commit' }
  | { readonly kind: 'cancel' }
  /** One whole step. selectAdded: what it made becomes the selection. isNudge: one with the nudge that it follows. */
  | { readonly kind: 'apply'; readonly command: PlanCommand; readonly selectAdded: boolean; readonly isNudge?: boolean }
  | { readonly kind: 'select'; readonly selection: Selection }
  | { readonly kind: 'setTool'; readonly tool: ToolName }
  /** The place on a track that the pointer is at; the track chart shows it. */
  | { readonly kind: 'hover'; readonly hover: { readonly track: Id; readonly stationMm: number } | null }
  | { readonly kind: 'hint'; readonly hint: Hint | null }
  /** A measured place, or the last one taken back; they are gathered outside of the plan. */
  | { readonly kind: 'measured'; readonly change: MeasuredChange }

export type MeasuredChange = { readonly kind: 'add'; readonly at: Point } | { readonly kind: 'takeBack' }

/** A word to the person at the pointer, as data; the canvas words it. */
export type Hint =
  | { readonly kind: 'edit'; readonly problem: EditProblem }
  | { readonly kind: 'entry'; readonly refusal: EntryRefusal }
  | { readonly kind: 'needPoints'; readonly have: number; readonly need: number }
  | { readonly kind: 'outsideBenchwork' }
  | { readonly kind: 'noTrackHere' }
  | { readonly kind: 'noTrackForPortal' }
  | { readonly kind: 'noWallHere' }
  | { readonly kind: 'noLineClass' }
  | { readonly kind: 'turnoutDoesNotFit'; readonly turnout: NetworkTurnout }
  | { readonly kind: 'trackTied' }
  | { readonly kind: 'stretch'; readonly problem: StretchProblem }
  | { readonly kind: 'measure'; readonly needs: 'track' | 'sameTrack' | 'otherTrack' }
  | { readonly kind: 'beyondTrack'; readonly lengthMm: number }
  /** No side of the wall holds the opening there. */
  | { readonly kind: 'beyondSide'; readonly nearestMm: number }
  | { readonly kind: 'outOfRange'; readonly what: 'frog'; readonly min: number; readonly max: number }
  | { readonly kind: 'lastPoints' }
  /** A line drawn on from its start has to be solved: what stands on it is counted from there. */
  | { readonly kind: 'startUnsolved' }
  /** A new corner wanted more room than its side had. */
  | { readonly kind: 'cornerRoom'; readonly room: CornerRoom; readonly isLonger: boolean }

/** Why a typed entry was not taken. */
export type EntryRefusal =
  | { readonly kind: 'length'; readonly problem: EntryProblem }
  | { readonly kind: 'angle'; readonly problem: EntryProblem }
  | { readonly kind: 'number'; readonly problem: EntryProblem }
  | { readonly kind: 'notPositive'; readonly text: string }
  /** The first point has nothing to be measured from: only "x; y" places it. */
  | { readonly kind: 'nothingToMeasureFrom' }
  /** A length without an angle, and the pointer shows no direction. */
  | { readonly kind: 'noDirection' }
  /** A radius before there is a PI to have it. */
  | { readonly kind: 'noCorner' }

/** What lies under the pointer. */
export type Pick =
  | { readonly kind: 'corner'; readonly track: Id; readonly corner: Id; readonly index: number; readonly at: Point }
  | { readonly kind: 'trackEnd'; readonly track: Id; readonly end: 'start' | 'end'; readonly at: Point }
  | { readonly kind: 'ringPoint'; readonly benchwork: Id; readonly ring: number; readonly index: number; readonly at: Point }
  | { readonly kind: 'turnout'; readonly turnout: Id; readonly at: Point }
  /** By the name that the network gives it. */
  | { readonly kind: 'crossing'; readonly crossing: string; readonly at: Point }
  | { readonly kind: 'track'; readonly track: Id; readonly stationMm: number; readonly headingRad: number; readonly at: Point }
  /** A side of the polygon of PIs: side i runs to corner i (or to the end). */
  | { readonly kind: 'trackSide'; readonly track: Id; readonly side: number; readonly at: Point }
  | { readonly kind: 'ringSide'; readonly benchwork: Id; readonly ring: number; readonly index: number; readonly at: Point }
  | { readonly kind: 'benchwork'; readonly benchwork: Id; readonly at: Point }
  | { readonly kind: 'wall'; readonly wall: Id; readonly at: Point }
  | { readonly kind: 'obstacle'; readonly obstacle: Id; readonly at: Point }
  | { readonly kind: 'opening'; readonly opening: Id; readonly at: Point }
  | { readonly kind: 'hatch'; readonly hatch: Id; readonly at: Point }
  | { readonly kind: 'hatchPoint'; readonly hatch: Id; readonly index: number; readonly at: Point }
  | { readonly kind: 'joist'; readonly joist: Id; readonly at: Point }
  | { readonly kind: 'joistEnd'; readonly joist: Id; readonly end: 'from' | 'to'; readonly at: Point }
  | { readonly kind: 'portal'; readonly portal: Id; readonly at: Point }
  /** The knob beside what was chosen, by which it is turned. */
  | { readonly kind: 'turnKnob'; readonly at: Point }
  | { readonly kind: 'reading'; readonly reading: Id; readonly at: Point }
  | { readonly kind: 'guide'; readonly guide: Id; readonly at: Point }

/** A place that the pointer was drawn to, and why. */
export interface Snap {
  readonly kind: SnapKind
  readonly point: Point
  /** From where the pointer is. */
  readonly distanceMm: number
  /** The line along which it lines up, to be drawn. */
  readonly guide: readonly [Point, Point] | null
  readonly leg: { readonly turnout: Id; readonly leg: TurnoutLeg; readonly pose: Pose } | null
}
export type SnapKind =
  | 'firstPoint'
  | 'leg'
  | 'trackEnd'
  | 'pi'
  | 'benchworkCorner'
  | 'wallCorner'
  | 'angleAndLine'
  | 'guidesCross'
  | 'legTangent'
  | 'guide'
  | 'tangent'
  /** Beside another track, at the centres that its class asks for. */
  | 'parallel'
  /** Beside both sides of a PI: where a line that goes round it as the other one does has its own. */
  | 'parallelsCross'
  | 'angle'
  | 'lineUpAcross'
  | 'lineUpAlong'
  | 'benchworkEdge'
  | 'joist'
  | 'wallEdge'
  | 'touches'
  | 'curveEnd'
  /** A side in line with something ends on an edge of wood or a wall. */
  | 'edgeMet'
  | 'wallMet'
  /** A side that began on an edge or a wall goes along it. */
  | 'alongEdge'
  | 'alongWall'
  | 'evenTies'
  | 'offJoist'
  | 'whole'

/** All that a tool may look at. */
export interface ToolContext {
  readonly plan: Plan
  readonly derived: Derived
  readonly selection: Selection
  readonly pxPerMm: number
  readonly units: Prefs['units']
  /** Kinds that are out of sight: neither meant by the pointer nor snapped to. Absent: none. */
  readonly hidden?: readonly Hideable[]
  /** The walls are being worked on, and are taken hold of over all their thickness. Absent: yes. */
  readonly isRoomWork?: boolean
}

/** If the plan refuses an `apply` or `begin`, the host keeps the state before the step and drops the effects after it. */
export interface Step<S> {
  readonly state: S
  readonly effects: readonly ToolEffect[]
}

/** What a tool shows of what it is doing, in plan millimetres; the canvas draws it. */
export type SketchItem =
  /** Sides being drawn; the last point is where the pointer is. */
  | { readonly kind: 'chain'; readonly points: readonly Point[]; readonly isClosed: boolean; readonly role: 'outline' | 'construction' }
  | { readonly kind: 'knob'; readonly at: Point; readonly role: 'point' | 'first' | 'pointer' }
  | { readonly kind: 'measure'; readonly from: Point; readonly to: Point }
  | { readonly kind: 'snap'; readonly snap: Snap }
  | { readonly kind: 'alignment'; readonly alignment: Alignment }
  | { readonly kind: 'turnout'; readonly turnout: NetworkTurnout }
  | { readonly kind: 'leg'; readonly pose: Pose }
  /** A frame that is being drawn around things. */
  | { readonly kind: 'box'; readonly from: Point; readonly to: Point }
  | { readonly kind: 'reading'; readonly of: ReadingOf }

/** What the strip over the canvas offers for the tool in hand. */
export type ToolOffer =
  | { readonly kind: 'none' }
  /** A frame is drawn around what is to be chosen. */
  | { readonly kind: 'box' }
  | { readonly kind: 'measure'; readonly of: ReadingOf['kind']; readonly places: number; readonly isDone: boolean }
  /** Points set so far, and whether they can be ended as they are. lineClass: the class of a line being laid; null: no line. */
  | { readonly kind: 'chain'; readonly points: number; readonly canEnd: boolean; readonly lineClass: Id | null }
  /** A door, passage or window being set in a wall. */
  | { readonly kind: 'opening'; readonly of: OpeningOf; readonly hinge: DoorLeaf['hinge'] }
  /** Places pointed at since the tool was taken up. */
  | { readonly kind: 'survey'; readonly points: number }
  /** frog null: as the class of the track has it. */
  | {
      readonly kind: 'turnout'
      readonly of: TurnoutKind['kind']
      readonly hand: Hand
      readonly facing: Facing
      readonly frog: number | null
    }

/**
 * What a field at the pointer would take now: null when typing means nothing. pi, piStep: as point and step, and a radius as well. along:
 * a step along what it lies on.
 */
export type EntryKind = 'point' | 'pi' | 'frog' | 'step' | 'piStep' | 'along' | 'turn' | 'station' | null

/** A tool: a pure machine. State goes in and comes out; effects are data. */
export interface Tool<S> {
  readonly name: ToolName
  readonly initial: S
  step(state: S, event: ToolEvent, context: ToolContext): Step<S>
  sketch(state: S, context: ToolContext): readonly SketchItem[]
  entry(state: S, context: ToolContext): EntryKind
  offer(state: S, context: ToolContext): ToolOffer
  cursor(state: S, context: ToolContext): 'default' | 'draw' | 'pick' | 'grab' | 'grabbing'
  /** Whether a drag that begins here is the tool's; else the canvas takes it to push the drawing. */
  takesDrag(state: S, at: Point, modifiers: Modifiers, context: ToolContext): boolean
}

/** Pixels within which the pointer means a thing; a finger gets more through a smaller pxPerMm. */
export const pickTolerancePx = 9
