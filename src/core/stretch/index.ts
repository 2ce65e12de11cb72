export { motionHeading, motionMirror, motionPoint, motionShift, motionTurn, type Motion } from './motion.ts'
export { readingsAlong, stretchConnected, stretchPoints, type Member, type StretchProblem } from './members.ts'
export { stretchMove, type StretchResult } from './move.ts'
export { stretchCopy } from './copy.ts'
