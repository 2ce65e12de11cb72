/** What a number is, how it is had, and where that comes from. */
export interface Explanation {
  readonly what: string
  /** As a person would write it on paper; absent: it is what it is. */
  readonly formula?: string
  readonly source?: string
}

/** What the particulars are of, by the labels that stand in them. */
export type ExplainedIn =
  | 'railway'
  | 'lineClass'
  | 'corner'
  | 'track'
  | 'trackEnd'
  | 'turnout'
  | 'crossing'
  | 'vehicle'
  | 'room'
  | 'laying'
  | 'stock'
  | 'joint'
  | 'maker'
  | 'aid'

const route = 'Railway route surveying: T. F. Hickerson, Route Location and Design; AREA Manual.'
const practice = 'Common practice, no source.'

const curve: { readonly [label: string]: Explanation } = {
  Radius: { what: 'Of the centreline on the arc, between its easements.' },
  'Fits up to': { what: 'The largest radius that fits between the sides as they are, with the easements asked for.' },
  Deflection: { what: 'By how much the line turns at this PI, from one tangent to the next.', formula: 'Δ' },
  'Easement in': { what: 'Length over which the curvature grows from nothing to that of the arc.', formula: 'L' },
  'Easement out': { what: 'Length over which the curvature goes back to nothing.', formula: 'L' },
  'Spiral angle': { what: 'The part of the turn that an easement takes.', formula: 'θ = L / 2R', source: route },
  Shift: {
    what: 'How far the arc moves inwards, so that an easement has room between it and the tangent.',
    formula: 'p = y − R (1 − cos θ), nearly L² / 24R',
    source: route,
  },
  Tangent: { what: 'From the PI back along the tangent to where the curve begins.', formula: 'T = (R + p) tan Δ/2 + k', source: route },
  External: { what: 'From the PI to the nearest place of the curve.', formula: 'E = (R + p) / cos(Δ/2) − R', source: route },
  Arc: { what: 'Length of constant radius.', formula: 'R (Δ − θ₁ − θ₂)', source: route },
  'Whole curve': { what: 'Arc and easements together.', formula: 'L₁ + R (Δ − θ₁ − θ₂) + L₂' },
  'TS · SC': { what: 'Stations where the easement begins (tangent to spiral) and where the arc begins (spiral to curve).' },
  'CS · ST': { what: 'Stations where the arc ends (curve to spiral) and where the tangent begins again (spiral to tangent).' },
  Station: { what: 'Distance along the track from where its stations begin.' },
  Right: { what: 'Of this place, from the corner of the plan to the right.' },
  Up: { what: 'Of this place, from the corner of the plan up the page.' },
}

const derived = 'Derived.'
const station = { what: 'Distance along the track from where its stations begin.' }
const places = { Right: { what: 'From the corner of the plan to the right.' }, Up: { what: 'From the corner of the plan up the page.' } }

const all: { readonly [of in ExplainedIn]: { readonly [label: string]: Explanation } } = {
  corner: curve,
  track: {
    Length: { what: 'Along the centreline, from end to end.' },
    Grade: { what: 'Rise for its length. So far a helix is all that climbs; every other track lies level.', formula: 'rise / length' },
    Station: station,
  },
  trackEnd: places,
  turnout: {
    Station: { what: 'Where the actual point of the switch lies, along the track from where its stations begin.' },
    Share: { what: 'The part of the frog angle that goes to its hand; the rest goes to the other side.' },
    'Second frog': { what: 'The number of the frog on the second leg, as the first one is told.' },
    'Second points': { what: 'How far behind the first points the second ones begin.' },
    'Point length': { what: 'Of a point rail, from its tip to its heel.', source: 'By the frog number, or as you typed it.' },
    'Point thickness': { what: 'Of a point rail at its tip, as it is filed.', source: practice },
    'Heel spread': { what: 'Between the gauge lines of stock rail and point rail at the heel.', source: practice },
    'Toe length': {
      what: 'Of the frog, from its theoretical point towards the switch.',
      source: 'By the frog number, or as you typed it.',
    },
    'Heel length': {
      what: 'Of the frog, from its theoretical point away from the switch.',
      source: 'By the frog number, or as you typed it.',
    },
    Frog: {
      what: 'How acute the frog is: as many long as it is wide there.',
      formula: 'N = 1 / (2 tan F/2), or 1 / tan F where the slope is meant',
    },
    'Frog angle': {
      what: 'Between the gauge lines that cross at the frog.',
      formula: 'F = 2 atan(1 / 2N)',
      source: 'AREA Manual, turnouts.',
    },
    'Switch angle': {
      what: 'Between the stock rail and a point that stands open to it.',
      formula: 'sin S = (heel spread − point thickness) / length of the points',
      source: 'AREA Manual, turnouts.',
    },
    Lead: {
      what: 'From the actual point of the switch to the theoretical point of the frog, along the straight route.',
      source: 'Solved so that points, closure and frog are tangent to each other; AREA Manual, turnouts.',
    },
    Closure: { what: 'Radius of the curved closure rail, told at the centreline.' },
    Sharpest: { what: 'The least radius that a car meets on its way through.' },
    'Gauge wider': { what: 'By how much the gauge is let out, because the class asks for it below this radius.' },
    Throat: { what: 'The narrowest place before the frog: between the bent wing rails, a flangeway apart.' },
    Throw: { what: 'How far the points move at the throw bar.', formula: 'open gap + point thickness', source: practice },
    'Guard cut': { what: 'How much of the guard rail cannot be laid because something else stands there.' },
    'Over all': { what: 'From the joint before the points to the joint behind the heel of the frog.' },
    'Has room': { what: 'How far this turnout can slide along its track before it meets something.' },
    Fouling: {
      what: 'From the frog to the clearance point, where the centrelines are as far apart as the railway asks: nothing may stand nearer.',
      source: practice,
    },
    Ties: { what: 'As they are laid here, long ones shared with a neighbour counted once.' },
  },
  crossing: {
    'Over all': { what: 'From joint to joint along the track.' },
    'Elbows guard': { what: 'Whether a wheel is held sideways all through the obtuse frogs, where both rails are open at one place.' },
    Ties: { what: 'As they are laid here, long ones shared with a neighbour counted once.' },
    Angle: { what: 'Between the two centrelines where they cross.' },
    'Elbow frogs': {
      what: 'The two obtuse frogs in the middle. Where the next rails guard them too little, a wheel may take the wrong way.',
    },
    'End frogs': { what: 'The two acute frogs, as in a turnout.' },
  },
  lineClass: {
    'Least radius': { what: 'No curve of this class may be sharper.', source: 'Filled from NMRA MRP-1.0 and RP-11, or as you typed it.' },
    'Least frog': { what: 'A turnout of a lower number is told.', source: 'Filled from NMRA MRP-1.0 and RP-11, or as you typed it.' },
    'Radius at least': {
      what: 'The curves of this class are to be so many times the longest of its cars.',
      formula: 'R ≥ number × length over couplers',
      source: practice,
    },
    'Usual radius': { what: 'What a corner takes that says “by class”.', source: practice },
    Shift: {
      what: 'The easement is made so long that the arc moves inwards by this much, whatever the radius.',
      formula: 'L = √(24 R p), then exactly',
      source: route,
    },
    'Track centres': { what: 'Between parallel tracks where they are straight.', source: practice },
    'Usual frog': { what: 'What a new turnout begins with.', source: practice },
    'Steepest grade': {
      what: 'A new helix of this class begins with it, and one that is steeper is marked. No other track climbs so far.',
      source: practice,
    },
    'Shortest curve': { what: 'A curve that is over sooner jerks every car that runs through it.' },
    Length: { what: 'Of the easements at corners that say “by class”.', source: practice },
    'Tie spacing': { what: 'From middle to middle of neighbouring ties.' },
    'Rail code': { what: 'Height of the rail in thousandths of an inch.' },
    'Rail head': { what: 'Width of the head: gauge is told between the heads.' },
    'Rail foot': { what: 'Width of the foot: spikes stand beside it.' },
    Thickness: { what: 'Of the roadbed, from the deck to below the ties.' },
    'Top width': { what: 'Of the roadbed below the ties.' },
    'Shoulder 1 :': { what: 'So much outwards for one down.', formula: 'bottom width = top width + 2 × thickness × number' },
    Strips: { what: 'Side by side, each thin enough to bend on edge.' },
    'Tie length': { what: 'Across the track.' },
    'Tie width': { what: 'Along the track.' },
    'Tie thickness': { what: 'From roadbed to rail.' },
    'Spacing at joints': { what: 'Of the ties on both sides of a rail joint, closer than elsewhere.', source: practice },
    'Below radius': { what: 'On curves sharper than this the gauge is let out.', source: practice },
    'Wider by': { what: 'How much the gauge is let out there.', source: practice },
    Superelevation: { what: 'How much the outer rail is raised on the arcs; it comes and goes along the easements.' },
    'Where coupled': {
      what: 'Curves on which cars are coupled are to be so many times the longest car.',
      formula: 'R ≥ number × length over couplers',
      source: practice,
    },
  },
  railway: {
    Gauge: { what: 'Between the inner sides of the rail heads.', source: 'By the standard named beside it.' },
    Flangeway: {
      what: 'Between a rail and the guard or wing rail beside it: room for a wheel’s flange.',
      source: 'By the standard of this scale.',
    },
    'Check gauge': {
      what: 'From the gauge line of the frog to the far side of the guard rail: it holds the wheel away from the frog’s point.',
      formula: 'gauge − flangeway',
      source: 'By the standard of this scale.',
    },
    'Frog No. means': {
      what: 'North American numbers are told along the middle of the frog, others along one side: a slope.',
      formula: 'N = 1 / (2 tan F/2); N = 1 / tan F',
    },
    'Edge margin': { what: 'The nearest that a centreline may come to the edge of the benchwork.', source: practice },
    'Between cars': { what: 'Kept free between two cars that pass each other, or between a car and a wall.', source: practice },
    'Fouling at': { what: 'Centres at which the clearance point of a turnout is set.', source: practice },
    Reach: { what: 'How far a hand goes from where a person stands.', source: practice },
    Aisle: { what: 'A narrower way between benchworks is told.', source: practice },
    Hatch: { what: 'A smaller hatch is told: a person must get through it.', source: practice },
    'Scale 1 :': { what: 'So many times smaller than the prototype.' },
    'Rail code': { what: 'Height of the rail in thousandths of an inch.' },
    'Rail head': { what: 'Width of the head: gauge is told between the heads.' },
    'Rail foot': { what: 'Width of the foot: spikes stand beside it.' },
    'Tie length': { what: 'Across the track.' },
    'Tie width': { what: 'Along the track.' },
    North: { what: 'For the compass on the sheets.', formula: 'against the clock from the right of the plan' },
  },
  vehicle: {
    'Over couplers': { what: 'From coupler face to coupler face, what a car takes of a siding.' },
    'Truck centres': {
      what: 'Between the pivots. Between them a car hangs inwards on a curve, beyond them outwards.',
      formula: 'inwards in the middle: R − √(R² − (centres/2)²)',
    },
    'Coupler swing': { what: 'How far a coupler turns to each side before it pushes the car off the track.' },
    'Body length': { what: 'Without couplers. Its ends swing outwards on a curve.' },
    'Body width': { what: 'At the widest.' },
    'Truck wheelbase': { what: 'From the first axle of a truck to its last; 0 where there is one axle.' },
    'Driver wheelbase': { what: 'From the first driving axle to the last: what cannot bend on a curve.' },
    Height: { what: 'Over the rail, at the highest.' },
    Weight: { what: 'On the model; what an engine pulls up a grade follows from it.' },
  },
  room: {
    Height: { what: 'Of the top of the benchwork over the floor.' },
    Thickness: { what: 'Of the wall, to the side that it runs on.' },
    Underside: { what: 'Of what is in the way, over the floor; what lies lower passes below it.' },
    From: { what: 'From the beginning of the wall to the opening, along it.' },
    Width: { what: 'Across: of an opening along its wall, of a joist from side to side.' },
    Leaf: { what: 'Of the door: what it sweeps must stay free.' },
    Sill: { what: 'Of a window over the floor: benchwork may stand below it.' },
    'From x': { what: 'Of its first end, from the corner of the plan to the right.' },
    'From y': { what: 'Of its first end, from the corner of the plan up the page.' },
    'To x': { what: 'Of its other end, from the corner of the plan to the right.' },
    'To y': { what: 'Of its other end, from the corner of the plan up the page.' },
    Station: { what: 'Of the portal, along its track.' },
    Length: { what: 'That the portal covers along the track.' },
    'Clear left': { what: 'From the centreline to the side of the portal, looking along rising station.', source: practice },
    'Clear right': { what: 'From the centreline to the side of the portal, looking along rising station.', source: practice },
    'Clear height': { what: 'Over the rail.', source: practice },
  },
  laying: {
    'To curve ends': { what: 'A joint keeps this far from where a curve or easement begins: a joint on a curve kinks.', source: practice },
    'To points': { what: 'A joint keeps this far from the tip of the points.', source: practice },
    'To a frog': { what: 'A joint keeps this far from the frog.', source: practice },
    'To guard rails': { what: 'A joint keeps this far from the ends of guard rails.', source: practice },
    'To a gap': { what: 'A joint keeps this far from an insulated gap.', source: practice },
    'To a throw bar': { what: 'No joint on either side of the bar within this.', source: practice },
    Stagger: { what: 'Between a joint of one rail and the nearest of the other: two at one place kink together.', source: practice },
    'Shortest piece': { what: 'No piece of plain rail is cut shorter.', source: practice },
    'Taken by a joint': { what: 'Length of rail that each joint takes beyond the two pieces; 0 where ends meet.' },
    Kerf: { what: 'What the cut itself takes of a stick.' },
    'Offcuts kept': { what: 'Longer ones go back on the shelf and are cut from first; shorter ones are waste.', source: practice },
    'Steepest ramp': { what: 'By which roadbed comes down to another height.', formula: 'length = rise / grade', source: practice },
    'Shim layer': { what: 'One layer of what the roadbed is built up with.', formula: 'layers = rise / layer' },
    Warmth: { what: 'Of the room on the day of laying.' },
    Coldest: { what: 'That the room will see: gaps are widest then.' },
    Hottest: {
      what: 'That the room will see: gaps must not close before then.',
      formula: 'a gap closes by L (a ΔT + b ΔH)',
      source: derived,
    },
    Humidity: { what: 'Of the air on the day of laying.' },
    Driest: { what: 'Air that the room will see: wood is shortest then.' },
    Dampest: { what: 'Air that the room will see: wood is longest then.' },
    'Rail grows': { what: 'Of its length for each degree, in millionths.', formula: 'ΔL = a L ΔT' },
    'Bench grows': { what: 'Of its length from dry to soaked air.', formula: 'ΔL = b L ΔH' },
    'First pass': { what: 'Every so manieth tie is spiked first, so that the rail can still be shifted.', source: practice },
    'On tangents': { what: 'Every so manieth tie is spiked in the end.', source: practice },
    'On curves': { what: 'Every so manieth tie is spiked in the end.', source: practice },
    'In turnouts': { what: 'Every so manieth tie is spiked in the end.', source: practice },
    'Plain track': { what: 'That you lay in an hour: the lists tell from it how long the work takes.' },
    'A turnout': { what: 'Hours that one takes you.' },
    'A crossing': { what: 'Hours that one takes you.' },
  },
  stock: {
    'On hand': { what: 'Pieces at home: they are cut before any is bought.' },
    'In a pack': { what: 'Nothing less is sold, so what is bought is whole packs.' },
    'Price of a pack': { what: 'In whatever money; the lists add it up.' },
    'Rail code': { what: 'Height of the rail in thousandths of an inch.' },
    Length: { what: 'Of one stick or sheet as it is sold.' },
    Width: { what: 'Of one stick or sheet as it is sold.' },
    Thickness: { what: 'Of one stick or sheet as it is sold.' },
    'Bends to a strain of': {
      what: 'How much the inner side of a strip may be squeezed when it is bent on edge.',
      formula: 'strain = width / 2R, nearly',
      source: derived,
    },
  },
  joint: { Station: station },
  maker: {
    Station: station,
    From: { what: 'Where it begins, by the station of its track.' },
    To: { what: 'Where it ends, by the station of its track.' },
    At: { what: 'By the station of the track.' },
    Centres: { what: 'Between the tracks, centreline to centreline.' },
    'On curves': { what: 'Between the tracks where they are curved: car ends and middles hang out there.' },
    Angle: { what: 'Between the first track and those that leave it.' },
    Frog: { what: 'How acute the frogs are: as many long as wide.', formula: 'N = 1 / (2 tan F/2)' },
    Frogs: { what: 'How acute they are: as many long as wide.', formula: 'N = 1 / (2 tan F/2)' },
    Radius: { what: 'Of the centreline, without its easements.' },
    Turns: { what: 'Times round.' },
    Rise: { what: 'In one turn.', formula: 'rise = length of a turn × grade' },
    Climb: { what: 'From the lower track to the upper one.' },
    Deck: { what: 'Thickness of what carries the track, with roadbed and ties; the rest is clear height.' },
    Clear: { what: 'Between a railhead and the deck above it.', formula: 'rise in a turn − deck' },
    Grade: { what: 'Rise for its length along the track.', formula: 'rise / length' },
    'Pulls like': {
      what: 'A straight grade on which the same engine pulls as much: a curve holds a train back.',
      formula: 'grade + 0.04 % for each degree of curve at full size',
      source: 'US Army, EM 1110-3-152, 3-3.',
    },
    'Frog to frog': { what: 'Along the track, from theoretical point to theoretical point.' },
    'Over the points': { what: 'Along the track, from the tip of the first points to the tip of the last.' },
    Pitch: { what: 'From one turnout of the ladder to the next.', formula: 'centres / sin of the angle, along the ladder' },
    'A turnout takes': { what: 'Of the ladder at least: below it turnouts meet each other.' },
    Across: { what: 'From centreline to centreline over the widest place.' },
  },
  aid: {
    Angle: { what: 'Against the clock from the right of the plan.' },
    'Through, right': { what: 'A place that it passes, from the corner of the plan to the right.' },
    'Through, up': { what: 'A place that it passes, from the corner of the plan up the page.' },
  },
}

/** Explanations of the labels that are shown, in their order; those without one are left out. */
export function explained(of: ExplainedIn, labels: readonly string[]): readonly (Explanation & { readonly label: string })[] {
  const table = all[of]
  return [...new Set(labels)].flatMap((label) => {
    const one = Object.hasOwn(table, label) ? table[label] : undefined
    return one === undefined ? [] : [{ label, ...one }]
  })
}

/** All labels that have an explanation. */
export function explainedLabels(): readonly string[] {
  return [...new Set(Object.values(all).flatMap((table) => Object.keys(table)))]
}
