import { readdirSync, readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import react from '@vitejs/plugin-react'
import { playwright } from '@vitest/browser-playwright'
import { defineConfig } from 'vitest/config'
import { browserOptions } from './scripts/browser.mjs'

const kinds = 'unit,reference,laws,differential,golden,roundtrip,tools,cli,architecture'

/** Tests of the app that put other modules in place of its own: these need the modules to themselves. */
const replacing = readdirSync('tests/app')
  .map((name) => `tests/app/${name}`)
  .filter((path) => /\.test\.tsx?$/.test(path) && readFileSync(path, 'utf8').includes('vi.mock('))

// What is slow for a reason (a browser starting, a build) gets time; a hang still ends.
const patient = { testTimeout: 60_000, hookTimeout: 180_000 }

export default defineConfig(async () => {
  const launchOptions = process.env['VITEST'] ? await browserOptions() : {}
  return {
    test: {
      projects: [
        {
          test: {
            name: 'core',
            environment: 'node',
            // Nothing here leaves anything behind in a module: read once, the code is shared by all files of a worker.
            isolate: false,
            maxWorkers: availableParallelism(),
            sequence: { groupOrder: 0 },
            include: [`tests/{${kinds}}/**/*.test.ts`],
            setupFiles: ['tests/support/editHere.ts'],
            ...patient,
          },
        },
        {
          plugins: [react()],
          test: {
            name: 'app',
            environment: 'jsdom',
            // A page and the modules of the app are begun once for all files of a worker; setup.ts clears up after each file.
            isolate: false,
            maxWorkers: availableParallelism(),
            sequence: { groupOrder: 0 },
            include: ['tests/app/**/*.test.{ts,tsx}'],
            exclude: replacing,
            setupFiles: ['tests/app/setup.ts'],
            ...patient,
          },
        },
        {
          plugins: [react()],
          test: {
            name: 'appAlone',
            environment: 'jsdom',
            maxWorkers: availableParallelism(),
            sequence: { groupOrder: 0 },
            include: replacing,
            setupFiles: ['tests/app/setup.ts'],
            ...patient,
          },
        },
        {
          plugins: [react()],
          optimizeDeps: {
            include: [
              'react',
              'react-dom/client',
              'comlink',
              'highs',
              'idb',
              'manifold-3d',
              'zustand',
              '@cantoo/pdf-lib',
              '@cantoo/fontkit',
              'clipper2-ts',
              'flatbush',
              'valibot',
            ],
          },
          test: {
            name: 'browser',
            sequence: { groupOrder: 1 },
            include: ['tests/browser/**/*.test.{ts,tsx}'],
            setupFiles: ['tests/support/editHere.ts'],
            browser: {
              enabled: true,
              headless: true,
              screenshotFailures: false,
              provider: playwright({ launchOptions }),
              instances: [{ browser: 'chromium' as const }],
            },
            ...patient,
          },
        },
        {
          test: {
            name: 'journeys',
            environment: 'node',
            // One browser for all, and what they read of the app's own modules is read once.
            isolate: false,
            // After all others: what a person waits for is not to be slowed by them.
            sequence: { groupOrder: 2 },
            include: ['tests/journeys/**/*.test.ts'],
            globalSetup: ['tests/support/serveApp.ts'],
            // Journeys share one built app and two cores.
            fileParallelism: false,
            ...patient,
          },
        },
      ],
    },
  }
})
