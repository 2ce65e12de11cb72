export { keptFor, keptForPairs, keptOn } from '../plan/index.ts'
