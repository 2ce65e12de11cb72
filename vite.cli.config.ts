import { defineConfig } from 'vite'

/** The command line as one file that plain Node runs; what draws PDF stands apart and is loaded when sheets are asked for. */
export default defineConfig({
  publicDir: false,
  logLevel: 'warn',
  ssr: { noExternal: true },
  build: {
    ssr: 'src/cli/waybench.ts',
    outDir: 'dist-cli',
    target: 'node20',
    minify: false,
    rolldownOptions: { output: { entryFileNames: 'waybench.mjs', chunkFileNames: '[name]-[hash].mjs' } },
  },
})
