import { checksWorker } from '../../src/engine/checksWorker.ts'
import { workerEngine } from '../../src/engine/worker.ts'
import { checksContract } from '../support/checksContract.ts'
import { engineContract } from '../support/engineContract.ts'

// A worker that is not built yet asks for hundreds of files before its first answer.
engineContract('worker, in a real browser', () => workerEngine(), { isOne: true })
checksContract('worker, in a real browser', () => checksWorker())
