import { build, preview } from 'vite'
import type { TestProject } from 'vitest/node'

declare module 'vitest' {
  export interface ProvidedContext {
    appAddress: string
  }
}

/** Builds the app as a user gets it and serves it on a free port for all journeys. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  // Tests run as such, and a build in such a run would bring React's own development build.
  const before = process.env['NODE_ENV']
  process.env['NODE_ENV'] = 'production'
  try {
    await build({ logLevel: 'error' })
  } finally {
    process.env['NODE_ENV'] = before
  }
  const server = await preview({ logLevel: 'error', preview: { port: 0, strictPort: false, open: false } })
  const address = server.resolvedUrls?.local[0]
  if (address === undefined) throw new Error('The built app could not be served.')
  project.provide('appAddress', address)
  return () => server.close()
}
