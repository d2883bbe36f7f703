// Keeps the page of a week, without anybody's figures, and the files that it is made of. Nothing else is kept or answered here.
const name = `evenground-week-${version}`
const [shell] = files
const patience = 8000

const isWeek = (path) => path === '/week' || /^\/g\/[^/]+\/weeks(\/\d{4}-W\d\d)?$/.test(path)

self.addEventListener('install', (event) => {
  const fresh = files.map((address) => new Request(address, { cache: 'reload', credentials: 'omit' }))
  event.waitUntil(
    caches
      .open(name)
      .then((cache) => cache.addAll(fresh))
      .then(() => self.skipWaiting()),
  )
})

self.addEventListener('activate', (event) => {
  const old = (key) => key.startsWith('evenground-week-') && key !== name
  event.waitUntil(
    caches
      .keys()
      .then((keys) => Promise.all(keys.filter(old).map((key) => caches.delete(key))))
      .then(() => self.clients.claim()),
  )
})

self.addEventListener('fetch', (event) => {
  const { request } = event
  const address = new URL(request.url)
  if (request.method !== 'GET' || address.origin !== self.location.origin) return
  if (request.mode === 'navigate') {
    if (isWeek(address.pathname)) event.respondWith(liveOrKept(request))
  } else if (files.includes(address.pathname)) event.respondWith(keptOrLive(request))
})

const kept = (what) => caches.match(what, { cacheName: name })
const keptOrLive = async (request) => (await kept(request)) ?? fetch(request)

// The page as it is, where there is a signal; where none comes, or the service is away, the kept one.
async function liveOrKept(request) {
  const live = fetch(request)
  const late = new Promise((done) => setTimeout(done, patience, null))
  const answer = await Promise.race([live, late]).catch(() => null)
  if (answer && ![502, 503, 504].includes(answer.status)) return answer
  return (await kept(shell)) ?? live
}
