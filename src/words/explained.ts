/** What a number is, how it is had, and where that comes from. */
export interface Explanation {
  readonly what: string
  /** As a person would write it on paper; absent: it is what it is. */
  readonly formula?: string
  readonly source?: string
}

/** What the particulars are of, by the labels that stand in them. */
export type ExplainedIn = 'railway' | 'lineClass' | 'corner' | 'track' | 'turnout' | 'crossing' | 'vehicle'

const route = 'Railway route surveying: T. F. Hickerson, Route Location and Design; AREA Manual.'
const practice = 'Common practice, no source.'

const curve: { readonly [label: string]: Explanation } = {
  Radius: { what: 'Of the centreline on the arc, between its easements.' },
  Deflection: { what: 'By how much the line turns at this PI, from one tangent to the next.', formula: 'Δ' },
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
}

const all: { readonly [of in ExplainedIn]: { readonly [label: string]: Explanation } } = {
  corner: curve,
  track: {
    Length: { what: 'Along the centreline, from end to end.' },
    Station: curve['Station'] ?? { what: '' },
  },
  turnout: {
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
    'Shortest curve': { what: 'A curve that is over sooner jerks every car that runs through it.' },
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
    North: { what: 'For the compass on the sheets.', formula: 'against the clock from the right of the plan' },
  },
  vehicle: {
    'Over couplers': { what: 'From coupler face to coupler face, what a car takes of a siding.' },
    'Truck centres': {
      what: 'Between the pivots. Between them a car hangs inwards on a curve, beyond them outwards.',
      formula: 'inwards in the middle: R − √(R² − (centres/2)²)',
    },
    'Coupler swing': { what: 'How far a coupler turns to each side before it pushes the car off the track.' },
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
