// How long each page of the group of ten years takes, opened twice: with nothing kept of the group, and again. Every
// address that its pages lead to, one of a kind; the files that they offer among them.
// npm run bench:pages; with BENCHMARK_SERVER another server than the usual one. Writes every-page.md.
import { writeFileSync } from 'node:fs'
import os from 'node:os'
import { type Ground, openGround } from './lines/ground.ts'
import { medianOf } from './lines/taken.ts'

/** Of each the median of so many. */
const times = 5
const shown = 30

interface Opened {
  readonly kind: string
  readonly cold: number
  readonly again: number
}

/** Pages alike but for what they are of: ids, weeks and days, and the values of what is asked. */
const kindOf = (address: string) =>
  address
    .replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, '(id)')
    .replace(/\d{4}-W\d\d/g, '(week)')
    .replace(/\d{4}-\d\d-\d\d/g, '(day)')
    .replace(/\?.*/, (asked) => `?${[...new Set(new URLSearchParams(asked).keys())].toSorted().join('&')}`)

const linksIn = (html: string) =>
  [...html.matchAll(/href="([^"#]+)/g)].map((found) => String(found[1]).replaceAll('&amp;', '&'))

async function walked({ base, text, page, statusOf, fresh }: Ground): Promise<Opened[]> {
  const toWalk = [base]
  const kinds = new Set(toWalk.map(kindOf))
  const found: Opened[] = []
  for (let address = toWalk.shift(); address !== undefined; address = toWalk.shift()) {
    // Such an address only leads to another.
    if ((await statusOf(address)) === 303) continue
    for (const link of linksIn(await text(address))) {
      // Whole exports are files of many seconds, which `bench` has a line for.
      if (!link.startsWith(`${base}/`) || link.includes('/export') || kinds.has(kindOf(link))) continue
      kinds.add(kindOf(link))
      toWalk.push(link)
    }
    const opened = page(address)
    const taken = async (work: () => Promise<unknown>) => {
      const all: number[] = []
      for (let i = 0; i < times; i++) {
        const from = performance.now()
        await work()
        all.push(performance.now() - from)
      }
      return medianOf(all)
    }
    const kind = kindOf(address).slice(base.length)
    found.push({
      kind: kind === '' ? 'Home' : kind.slice(1).replaceAll('/', ' / '),
      cold: await taken(fresh(opened)),
      again: await taken(opened),
    })
  }
  return found
}

const ground = await openGround('every_page')
try {
  const pages = await walked(ground)
  const ms = (value: number) => value.toFixed(value < 10 ? 1 : 0)
  const share = (most: number) => pages.filter(({ cold }) => cold <= most).length
  const median = (of: 'cold' | 'again') => ms(medianOf(pages.map((one) => one[of])))
  const slowest = pages.toSorted((a, b) => b.cold - a.cold).slice(0, shown)
  const text = `# Every page of ten years

Written by \`npm run bench:pages\`. Six gardens, ten seasons, 1,800 plantings, 60,000 weighings and 30,000 entries of hours, invented
(large-group.ts), on PostgreSQL on the same machine; each address that the group's pages lead to its keeper, one of a
kind, files for programs among them, whole exports not. Milliseconds from asking to the last byte, the median of
${times}; before each of the first column the process forgets what it kept of the group, the sums of closed seasons stand in
the database.

${pages.length} addresses; nothing kept: ${median('cold')} ms by the median, ${share(100)} within 100 ms, ${share(200)} within 200,
${share(400)} within 400; again: ${median('again')} ms by the median. The ${shown} slowest:

| address | nothing kept, ms | again, ms |
| --- | --- | --- |
${slowest.map(({ kind, cold, again }) => `| \`${kind}\` | ${ms(cold)} | ${ms(again)} |`).join('\n')}

${new Date().toISOString().slice(0, 10)}; Node ${process.version}; ${os.cpus().length} cores (${os.cpus()[0]?.model.trim()}); load ${os.loadavg()[0]?.toFixed(1)} when it ended.
`
  process.stdout.write(text)
  writeFileSync(new URL('every-page.md', import.meta.url), text)
} finally {
  await ground.drop()
}
