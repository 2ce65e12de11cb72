import { checksWorker } from '../../src/engine/checksWorker.ts'
import { workerEngine } from '../../src/engine/worker.ts'
import { checksContract } from '../support/checksContract.ts'
import { engineContract } from '../support/engineContract.ts'

engineContract('worker, in a real browser', () => workerEngine())
checksContract('worker, in a real browser', () => checksWorker())
