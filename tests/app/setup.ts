import { configure } from '@testing-library/react'

// What comes late (a lazy part, an answer of the engine) comes later still on a machine that does other work as well.
configure({ asyncUtilTimeout: 20_000 })
