// Writes the published JSON Schema of plan files from the schema that the app reads by: node scripts/schema.mjs
// A test fails when the file in public/schema is older than that.
import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { createServer } from 'vite'

const root = join(dirname(fileURLToPath(import.meta.url)), '..')
const file = join(root, 'public', 'schema', 'waybench-plan.schema.json')
const server = await createServer({
  root,
  configFile: false,
  logLevel: 'error',
  appType: 'custom',
  server: { middlewareMode: true, ws: false },
})
try {
  const { planJsonSchemaText } = await server.ssrLoadModule('/tests/support/planJsonSchema.ts')
  mkdirSync(dirname(file), { recursive: true })
  writeFileSync(file, planJsonSchemaText())
  console.log(`wrote ${file.slice(root.length + 1)}`)
} finally {
  await server.close()
}
