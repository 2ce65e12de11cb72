import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { checksWorkerPlugin } from './vite/checksWorker.ts'
import { screenFacePlugin } from './vite/screenFace.ts'

export default defineConfig({
  // Relative addresses: the built folder works from any place, also from a memory stick.
  base: './',
  plugins: [screenFacePlugin(), checksWorkerPlugin(), react()],
  worker: { format: 'es' },
  build: { target: 'es2022' },
  // Known at start, so that the first use of a worker or a sheet does not reload the page.
  optimizeDeps: { include: ['comlink', 'clipper2-ts', 'flatbush', '@cantoo/pdf-lib', '@cantoo/fontkit'] },
})
