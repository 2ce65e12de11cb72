import { planParse } from '../core/plan/index.ts'
import { historyRestored } from './historyRestored.ts'

/** What reads a plan and its steps as they lie on a shelf. */
export const reading = { planParse, historyRestored }
