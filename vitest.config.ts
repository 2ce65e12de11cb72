import { defineConfig } from 'vitest/config'
import react from '@vitejs/plugin-react'

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'core',
          environment: 'node',
          include: ['tests/{unit,reference,laws,differential,golden,roundtrip,tools,cli,architecture}/**/*.test.ts'],
          testTimeout: 30000,
          hookTimeout: 60000,
        },
      },
      {
        plugins: [react()],
        test: { name: 'app', environment: 'jsdom', include: ['tests/app/**/*.test.tsx'], testTimeout: 30000 },
      },
    ],
  },
})
