import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { checksWorkerPlugin } from './vite/checksWorker.ts'
import { contentPolicyPlugin, offlinePlugin } from './vite/offline.ts'
import { screenFacePlugin } from './vite/screenFace.ts'

export default defineConfig(({ command }) => ({
  // Relative addresses: the built folder works from any place, also from a memory stick.
  base: './',
  plugins: [screenFacePlugin(), checksWorkerPlugin(), react(), contentPolicyPlugin(), offlinePlugin()],
  define: { 'import.meta.env.BUILT': JSON.stringify(command === 'build') },
  worker: { format: 'es' },
  // What is es2022 knows preloading, or does without: it needs no other way to it.
  build: { target: 'es2022', modulePreload: { polyfill: false } },
  // Known at start, so that the first use of a worker or a sheet does not reload the page.
  optimizeDeps: { include: ['comlink', 'clipper2-ts', 'flatbush', '@cantoo/pdf-lib', '@cantoo/fontkit'] },
}))
