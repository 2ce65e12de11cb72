import { editLate } from '../../src/store/editLate.ts'

// In the app what edits comes when a hand first does something, and commands wait for it; here it is there from the start.
await editLate.bring()
