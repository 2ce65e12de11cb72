import { cpSync, mkdtempSync, mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { layerBreaches } from '../../scripts/layers.mjs'

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')

describe('the import rule of the house', () => {
  it('holds in the tree as it stands', () => {
    expect(layerBreaches(root)).toEqual([])
  })
})

describe('the check of the import rule', () => {
  let tree = ''
  beforeEach(() => {
    tree = mkdtempSync(join(tmpdir(), 'waybench-layers-'))
    cpSync(join(root, 'layers.json'), join(tree, 'layers.json'))
  })
  afterEach(() => rmSync(tree, { recursive: true, force: true }))

  function plant(file: string, text: string): void {
    mkdirSync(dirname(join(tree, file)), { recursive: true })
    writeFileSync(join(tree, file), text)
  }

  it.each([
    ['core reaching up into the store', 'src/core/geom/bad.ts', "import { x } from '../../store/planStore.ts'"],
    ['a type taken from a stage to the right', 'src/core/plan/bad.ts', "import type { X } from '../alignment/types.ts'"],
    ['a type export from above', 'src/core/turnout/bad.ts', "export type { X } from '../checks/types.ts'"],
    ['a dynamic import of the view', 'src/engine/bad.ts', "const view = await import('../app/App.tsx')"],
    ['a worker address across the rule', 'src/formats/bad.ts', "new URL('../engine/workerMain.ts', import.meta.url)"],
    ['a package that the room does not know', 'src/core/geom/bad.ts', "import { useState } from 'react'"],
    ['Node in the browser part', 'src/formats/bad.ts', "import { readFileSync } from 'node:fs'"],
    ['a file in no layer', 'src/core/elsewhere/bad.ts', 'export const x = 1'],
    ['a file outside of src', 'src/core/geom/bad.ts', "import data from '../../../tests/reference/data/rail.json'"],
  ])('catches %s', (_what, file, text) => {
    plant(file, text)
    expect(layerBreaches(tree)).toHaveLength(1)
  })

  it('lets through what the table allows', () => {
    plant('src/core/alignment/good.ts', "import { a } from '../geom/index.ts'\nimport type { B } from '../plan/types.ts'")
    expect(layerBreaches(tree)).toEqual([])
  })
})
