import type { Point, Pose } from '../../geom/types.ts'
import type { BoardPattern, BoardPlace, RailPart, TurnoutGap, TurnoutOrdinate, TurnoutRail, TurnoutRailRole, TurnoutTie } from '../types.ts'
import type { RouteName, WorkFrog, WorkRoute } from '../work/types.ts'

/** What a turnout and a crossing have in common at the bench; mm, in their own frame. */
export interface BuiltWork {
  readonly routes: readonly WorkRoute[]
  readonly frogs: readonly WorkFrog[]
  readonly rails: readonly TurnoutRail[]
  readonly ties: readonly TurnoutTie[]
  readonly gaps: readonly TurnoutGap[]
  readonly measures: BuiltMeasures
  readonly board: BoardPattern | null
  /** Routes that leave the host, with the ordinates of their closure at its quarters. */
  readonly diverging: readonly { readonly route: RouteName; readonly ordinates: readonly TurnoutOrdinate[] }[]
  readonly throws: readonly { readonly bar: Pose; readonly throwMm: number }[]
}

export interface BuiltMeasures {
  readonly gaugeMm: number
  readonly ratio: number
  readonly flangewayMm: number
  readonly railHeadMm: number
  readonly railFootMm: number
  readonly pointThicknessMm: number
  readonly tieLengthMm: number
  readonly tieWidthMm: number
  readonly tieSpacingMm: number
}

/** How a builder works: what the numbers for the bench depend on besides the geometry. mm on the bench. */
export interface BenchPractice {
  /** On the stock rail that is not bent: undercut to take the point, or a set ahead of the point. */
  readonly nest: 'undercut' | 'set'
  /** Spikes in every nth tie of a turnout. */
  readonly spikeEvery: number
  /** None this near to a theoretical frog point until wheels have proved it. */
  readonly spikeFreeMm: number
  /** Top of the roadbed, and how far its shoulder reaches beyond at the foot. */
  readonly roadbedMm: number
  readonly shoulderMm: number
  readonly throwWire: ThrowWire
  readonly motor: MotorBody
}

/** The wire that moves the throw bar through the deck. */
export interface ThrowWire {
  readonly wireMm: number
  /** From the throw bar down to the underside: ties, roadbed and deck. */
  readonly deckMm: number
  /** Depth of the fulcrum below the throw bar; null: the wire does not tilt, its machine moves as far as the bar. */
  readonly fulcrumMm: number | null
  /** Travel of the mechanism, and how far below the fulcrum it takes hold of the wire. */
  readonly travelMm: number
  readonly armMm: number
}

/** Body of a switch machine below the deck, about the throw bar: along the host, across it, and free room round it. */
export interface MotorBody {
  readonly alongMm: number
  readonly acrossMm: number
  readonly aroundMm: number
}

/** A piece of a stick between two marks. A bend is a short arc that stands for a corner. */
export interface StickPiece {
  readonly kind: 'straight' | 'arc' | 'easement' | 'bend'
  readonly fromMm: number
  readonly lengthMm: number
  /** Of an arc or bend, of the gauge line; null: straight, or changing. */
  readonly radiusMm: number | null
  /** Positive to the left as seen from the stick's start. */
  readonly turnRad: number
}

/** Where a rail is bent at one place: the middle of the bend from the stick's start. */
export interface BendMark {
  readonly atMm: number
  readonly turnRad: number
}

/** An end that is planed or filed: over what length, from what width to the full head, and at what angle to the rail. */
export interface Filing {
  readonly kind: 'point' | 'frog' | 'elbow'
  readonly end: 'start'
  readonly lengthMm: number
  readonly tipMm: number
  readonly angleRad: number
}

/** One stick of the cut list. */
export interface RailStick {
  /** Index of the rail in the geometry. */
  readonly rail: number
  readonly role: TurnoutRailRole
  readonly part: RailPart
  readonly route: RouteName
  /** Running or working face to the left or right of the route. */
  readonly side: 'left' | 'right'
  /** Along the gauge line. */
  readonly lengthMm: number
  readonly pieces: readonly StickPiece[]
  readonly bends: readonly BendMark[]
  readonly filings: readonly Filing[]
}

/** Offsets from the gauge line of the stock rail that the point lies against, measured along a tie. */
export interface TieOrdinate {
  readonly tie: number
  /** Station of the tie from PS along the host. */
  readonly stationMm: number
  /** To the gauge line of the outer rail: point, closure, frog; null: none there, as between wing and point of the frog. */
  readonly closureMm: number | null
  /** To the gauge line of the other stock rail; null: none there. */
  readonly stockMm: number | null
}

export interface RouteOrdinates {
  readonly route: RouteName
  /** The quarters of the closure, from the heel. */
  readonly quarters: readonly TurnoutOrdinate[]
  readonly ties: readonly TieOrdinate[]
}

/** How a closed point lies against its stock rail. */
export interface PointNest {
  /** Indices of the point and of the stock rail. */
  readonly point: number
  readonly stock: number
  readonly at: Point
  /** set: the stock rail is bent there, along it from its start. undercut: its head is filed so deep over so much. */
  readonly by:
    | { readonly kind: 'set'; readonly alongMm: number; readonly turnRad: number; readonly isDrawn: boolean }
    | { readonly kind: 'undercut'; readonly depthMm: number; readonly lengthMm: number }
  /** From the tip: how far the foot of the point is filed away so that it clears the stock rail's; null: beyond the heel. */
  readonly footClearMm: number | null
}

/** A spike, at the edge of a rail's foot. */
export interface Spike {
  readonly tie: number
  readonly rail: number
  readonly side: 'inside' | 'outside'
  readonly at: Point
}

/** A card to cut roadbed along: what a leaving route adds to the host's roadbed. */
export interface RoadbedCard {
  readonly route: RouteName
  /** Edge of the top, anticlockwise for a route to the left. */
  readonly top: readonly Point[]
  /** Edge of the foot, with the shoulder. */
  readonly foot: readonly Point[]
  /** Angle at the crotch, between the host's roadbed and the route's. */
  readonly crotchRad: number | null
  /** Length of the taper: from where the card begins to the crotch, along the host. */
  readonly taperMm: number
}

/** A PC-board tie, why it is one, and where its foil is parted. */
export interface BoardTie {
  readonly tie: number
  readonly why: readonly (BoardPlace | 'count')[]
  readonly foilGaps: readonly FoilGap[]
}

/** Between two rails of different polarity. roomMm: what is left between their feet; below a saw cut the tie cannot carry both. */
export interface FoilGap {
  readonly at: Point
  readonly roomMm: number
}

/** Rails that are one conductor once the gaps are cut. frog: fed through contacts; side: that rail of the main circuit. */
export interface Section {
  readonly name: string
  readonly kind: 'left' | 'right' | 'vee' | 'elbow'
  /** Indices of rails. */
  readonly rails: readonly number[]
  /** Index of the frog; null: a side. */
  readonly frog: number | null
}

export type GapFault = 'insideGuard' | 'nearTip'

export interface GapPlace {
  readonly at: Point
  readonly role: TurnoutRailRole
  /** Index of the rail, and how far along it; null: no rail there. */
  readonly rail: number | null
  readonly alongMm: number
  /** Index of the frog that it cuts free; null: none near. */
  readonly frog: number | null
  readonly end: 'toe' | 'heel'
  readonly faults: readonly GapFault[]
}

/** A jumper below the rails. */
export interface Bond {
  readonly from: WirePlace
  readonly to: WirePlace
  readonly why: 'closureToStock' | 'pointToStock'
}

export interface WirePlace {
  readonly at: Point
  readonly rail: number
}

export interface Feeder extends WirePlace {
  /** Index of the section. */
  readonly section: number
  readonly why: 'stock' | 'frogByContacts' | 'elbowByContacts' | 'nothingElse'
}

export interface Electrics {
  readonly sections: readonly Section[]
  readonly gaps: readonly GapPlace[]
  readonly bonds: readonly Bond[]
  readonly feeders: readonly Feeder[]
}

/** Hole for the throw wire. */
export interface ThrowSlot {
  /** Middle of the throw bar, heading along the host. */
  readonly bar: Pose
  readonly throwMm: number
  /** Across the host at the top and the underside of the deck, and along it. */
  readonly topMm: number
  readonly bottomMm: number
  readonly widthMm: number
  /** The longer of both: a round hole or a straight slot of this size does. */
  readonly drillMm: number
  /** With a longer arm below the fulcrum the points do not close; null: no fulcrum. */
  readonly longestArmMm: number | null
  /** What the wire would move at the bar beyond the throw, taken up by its spring; below 0: the points do not close. */
  readonly spareMm: number
}

/** Room under the deck that a switch machine needs: a rectangle in the turnout's frame. */
export interface ThrowZone {
  readonly middle: Pose
  /** Along the host and across it, free room included. */
  readonly lengthMm: number
  readonly widthMm: number
}

/** What is marked beside the rails at full size. */
export interface TurnoutWiring {
  readonly electrics: Electrics
  readonly boardTies: readonly BoardTie[]
  readonly slots: readonly ThrowSlot[]
  readonly zones: readonly ThrowZone[]
  readonly spikes: readonly Spike[]
}

export interface TurnoutConstruction extends TurnoutWiring {
  readonly sticks: readonly RailStick[]
  readonly ordinates: readonly RouteOrdinates[]
  readonly nests: readonly PointNest[]
  readonly roadbed: readonly RoadbedCard[]
}
