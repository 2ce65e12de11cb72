import { workerEngine } from '../../src/engine/worker.ts'
import { engineContract } from '../support/engineContract.ts'

engineContract('worker, in a real browser', () => workerEngine())
