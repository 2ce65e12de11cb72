import { expose } from 'comlink'
import { checksInline } from './checksInline.ts'

expose(checksInline())
