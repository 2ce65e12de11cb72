// Stands before the page: what it needs comes from a copy of one whole build. `version` and `files` are written above this when the app
// is built. A newer build is fetched beside the one in use and takes its place only when the person says so, or when no page is open.
const cacheName = `waybench-${version}`

addEventListener('install', (event) => {
  event.waitUntil(caches.open(cacheName).then((cache) => cache.addAll(files.map((name) => new Request(name, { cache: 'no-cache' })))))
})

addEventListener('activate', (event) => event.waitUntil(clients.claim()))

// A page of the build before, in another tab, goes on asking for its own files: they stay until a page is alone.
const tidy = async () => {
  if ((await clients.matchAll({ type: 'window', includeUncontrolled: true })).length > 1) return
  for (const name of await caches.keys()) if (name.startsWith('waybench-') && name !== cacheName) await caches.delete(name)
}

addEventListener('message', (event) => {
  if (event.data === 'take-over') skipWaiting()
  if (event.data === 'tidy') event.waitUntil(tidy())
})

addEventListener('fetch', (event) => {
  const { request } = event
  const address = new URL(request.url)
  if (request.method !== 'GET' || address.origin !== location.origin) return
  const answer = async () => {
    const cache = await caches.open(cacheName)
    const page = request.mode === 'navigate' ? await cache.match('index.html', { ignoreVary: true }) : undefined
    // A server may say that its answer varies with what is asked along; these files do not.
    const asIs = { ignoreSearch: true, ignoreVary: true }
    return page ?? (await cache.match(request, asIs)) ?? (await caches.match(request, asIs)) ?? fetch(request)
  }
  event.respondWith(answer())
})
