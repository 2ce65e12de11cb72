// npm start: build what is stale, serve it, print the address.
import { build, preview } from 'vite'
import { isStale } from './stale.mjs'

if (isStale(['src', 'public', 'index.html', 'vite.config.ts', 'package-lock.json'], 'dist/index.html')) {
  await build({ logLevel: 'warn' })
}
const server = await preview({
  preview: { port: Number(process.env.PORT ?? 4173), open: process.env.BROWSER !== 'none' && Boolean(process.stdout.isTTY) },
})
console.log('Waybench is open at:')
server.printUrls()
console.log('Stop it with Ctrl+C.')
