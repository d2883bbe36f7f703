import { cpus } from 'node:os'
import { type ByTable, type Grown, grownBy, type Held } from './bytes-by-table.ts'

export interface Figures {
  readonly minutes: number
  readonly groups: number
  readonly visitsOfGroup: number
  readonly visits: number
  /** Milliseconds by kind. */
  readonly took: ReadonlyMap<string, readonly number[]>
  readonly wrong: ReadonlyMap<string, number>
  /** With the one group, and with all its copies. */
  readonly model: { readonly before: ByTable; readonly after: ByTable }
  /** Other groups, what each takes. */
  readonly others: ReadonlyMap<string, Grown>
  /** Seconds, over all the minutes. */
  readonly processor: {
    readonly service: number
    readonly database: number
    /** Of a standby that is read, replaying included; 0 where there is none. */
    readonly replica: number
    readonly own: number
  }
  /** Bytes written ahead. */
  readonly wal: number
  readonly resident: { readonly start: number; readonly end: number; readonly database: number }
  readonly loads: readonly number[]
  /** Rows that an entry writes. */
  readonly perEntry: number
}

const planned = 100_000
/** Milliseconds of processor a request, 29 November 2026. */
const msWithReplica = { primary: 7.8, standby: 3 }
/** Of an entry: the week, a token, a sheet; of a reading one. */
const requestsOf = { entry: 3, reading: 1 }
const seasonsOfModel = 2
const [kB, MB, GB, TB] = [1e3, 1e6, 1e9, 1e12]

/** What was measured, and the plan that is counted from it. */
export function hourTold(figures: Figures): string {
  return `# An hour of ${whole(figures.groups)} groups, and a plan for ${whole(planned)}

Written by \`npm run bench:hour\`. One process of the service and one PostgreSQL 15 as it comes (128 MB of shared buffers,
each commit forced to the disk), both on the machine that also asked: ${cpus().length} processors (${cpus()[0]?.model.trim()}), Node
${process.version}, ${new Date().toISOString().slice(0, 10)}. **Other work ran on the machine at the same time**: the load
average was ${loadsTold(figures.loads)}, so the milliseconds are those of a busy machine, while seconds of
processor are the service's and the database's own.

${measured(figures)}
${plan(figures)}`
}

function measured(figures: Figures): string {
  const { minutes, groups, visitsOfGroup, visits, took, wrong, processor, wal, resident, perEntry } = figures
  const rows = [...took].map(([name, ms]) => {
    const part = (share: number) => Math.round(percentile(ms, share))
    return `| ${name} | ${ms.length} | ${part(0.5)} | ${part(0.95)} | ${part(0.99)} | ${Math.round(Math.max(...ms))} |`
  })
  const seconds = minutes * 60
  const asked = requests(figures)
  const replica =
    processor.replica === 0
      ? ''
      : `| a standby that is read, all its processes | ${processor.replica.toFixed(0)} s | ${each(processor.replica, asked)} ms | ${(processor.replica / seconds).toFixed(3)} |\n`
  const wrongly = [...wrong].map(([what, times]) => `${what}, ${times} times`).join('; ')
  return `## Measured: ${minutes} minutes, not compressed

Each group has three gardens, ${seasonsOfModel} seasons of which one runs, 60 plantings, 800 weighings, 400 entries of hours, a frozen and a
live report, and its history; ${whole(groups)} copies of it. Visits come by chance (exponential gaps from a seed) at
${visitsOfGroup} a group and hour, and none waits for another: ${whole(visits)} visits, ${whole(asked)} requests, ${(asked / seconds).toFixed(1)} a second. Seven of ten open
this week and send a sheet of ${perEntry} cells, a token first, as a device does; one reads a frozen report and one a live one
by its link; one opens Compare. Milliseconds are from the moment at which a visit was due.

| request | times | median, ms | 95th | 99th | longest |
| --- | --- | --- | --- | --- | --- |
${rows.join('\n')}

Answered otherwise than right: ${wrongly === '' ? 'none' : wrongly}.

| what it took | in all | a request | processors, of one |
| --- | --- | --- | --- |
| the service, with its thread | ${processor.service.toFixed(0)} s | ${each(processor.service, asked)} ms | ${(processor.service / seconds).toFixed(3)} |
| the database, all its processes | ${processor.database.toFixed(0)} s | ${each(processor.database, asked)} ms | ${(processor.database / seconds).toFixed(3)} |
${replica}| whoever asked, not part of the service | ${processor.own.toFixed(0)} s | ${each(processor.own, asked)} ms | ${(processor.own / seconds).toFixed(3)} |

The service held ${resident.start} MB at the start and ${resident.end} MB at the end, the database ${resident.database} MB with what its processes
share counted once; ${(wal / MB).toFixed(0)} MB were written ahead, ${(wal / kB / entries(figures)).toFixed(1)} kB an entry of ${perEntry} cells.

## Measured: bytes of a group and year

By \`pg_total_relation_size\` of the ${whole(groups)} copies, indexes and history included, divided by the copies and by ${seasonsOfModel}; tables below
1 kB are in the sum alone.

| table | rows | kB |
| --- | --- | --- |
${tables(figures).join('\n')}
${othersTold(figures)}`
}

function othersTold({ others }: Figures): string {
  if (others.size === 0) return ''
  const lines = [...others].map(([name, { rows, bytes, seasons }]) => {
    const perYear = `${whole(rows / seasons)} rows, ${(bytes / seasons / kB).toFixed(0)} kB`
    return `| ${name} | ${seasons} | ${perYear} |`
  })
  return `
| other groups, each alone in a database | seasons | a season |
| --- | --- | --- |
${lines.join('\n')}

A group that is alone pays for whole pages of small tables and indexes, so these are somewhat above what it would take
among others.
`
}

function plan(figures: Figures): string {
  const { groups, minutes, processor, wal, resident, visitsOfGroup } = figures
  const seconds = minutes * 60
  const times = planned / groups
  const year = perYear(figures)
  const large = figures.others.get('90,000 entries in ten years')
  const aSecond = (requests(figures) / seconds) * times
  const busy = { service: (processor.service / seconds) * times, database: (processor.database / seconds) * times }
  const half = (used: number) => Math.ceil(used / 0.5)
  const written = ((wal / seconds) * times) / MB
  return `
## A plan for ${whole(planned)} groups

Everything below is **extrapolated**: ${whole(groups)} groups were measured, ${whole(planned)} are ${whole(times)} times as many, and it is taken that work grows
as their number does. That holds for the service (it knows one group at a time) and was not tried for the database: there
its indexes are deeper and do not lie in memory whole.

Assumptions, none of them measured on people:

1. Every group comes ${visitsOfGroup} times in the busiest hour, a Sunday evening in the season. This is the hard case: were it a fifth of
   the groups, all figures of requests, processors and bytes written below would be a fifth.
2. Visits are as above: 70 % entry, 20 % reports, 10 % Compare. All groups are in one time zone.
3. A group is as large as the one measured, ${whole(year.rows)} rows a year with its history.
4. Processors are to be half busy in that hour, so that a hall that opens one link, or one machine fewer, is borne.
5. One processor of those machines is worth one of this machine.

| what | for ${whole(planned)} groups | counted from |
| --- | --- | --- |
| rows | ${whole((year.rows * planned) / 1e6)} million a year, ${whole((year.rows * planned) / 1e5)} million in ten | measured rows of a group and year |
| bytes | ${((year.bytes * planned) / GB).toFixed(0)} GB a year, ${((year.bytes * planned) / (TB / 10)).toFixed(1)} TB in ten; ${bytesOfLarge(large)} | measured bytes; pictures not among them |
| requests at the peak | ${aSecond.toFixed(0)} a second | measured, times ${whole(times)} |
| processors of the service | ${busy.service.toFixed(1)} busy, so ${half(busy.service)} | measured, times ${whole(times)}, half busy |
| processors of the database | ${busy.database.toFixed(1)} busy, so ${half(busy.database)} | the same |
| processes | one a processor: ${half(busy.service)}, ${half(busy.service) * 10} connections at most: a pooler before the database above some 200 | ten a process (\`db/server.ts\`) |
| memory of the service | ${((half(busy.service) * Math.max(resident.end, resident.start)) / 1000).toFixed(1)} GB | measured at the end, times the processes |
| written ahead | ${written.toFixed(1)} MB a second | measured; what a replica has to be sent |
| replicas | two | see below |

**Replicas.** What a replica takes off the primary is what Compare and reports read, three visits of ten here; all entries
stay with the primary, and each reading asks it for a count. Measured apart, for six minutes over 500 groups with as many
visits a second (\`npx tsx test/benchmark/an-hour.ts 6 500 12 replica\`): the primary took ${msWithReplica.primary} ms of processor a request and the
standby ${msWithReplica.standby}, replaying included. So a replica bears about a quarter of the database here: it is for a hall of readers and for
the day on which the primary is lost, and a second one for the day on which the first is.

**One primary or several.** By these figures one primary is enough in processors. What speaks for several is how long one is
read back after a loss: ${restoring(year.bytes * planned * 10)}, and
vacuum and an upgrade are of the whole as well. Every table of a group is keyed by it (\`npm run check:distributable\`), so
that groups can be put into several databases, ${whole(planned / 8)} in each of eight say, behind a directory of addresses. Nothing of
that was built or run.

**Left out**: pictures (up to 500 MB a group by the usual quota, so they decide the disk where they are used), exports, sign-ins,
and groups of ten years, whose Compare costs more (\`speed.md\`).
`
}

/** At a speed that is an assumption, and said as one. */
function restoring(bytes: number): string {
  const hours = bytes / (200 * MB) / 3600
  return `${(bytes / TB).toFixed(1)} TB of ten years at 200 MB a second, an assumption, are ${hours.toFixed(1)} hours`
}

function bytesOfLarge(large: Grown | undefined): string {
  if (large === undefined) return 'larger groups were not measured'
  const all = (large.bytes / large.seasons) * planned
  return `were all as large as 9,000 entries a year, ${(all / TB).toFixed(1)} TB a year`
}

function entries({ took }: Figures): number {
  return took.get('a sheet sent, with its token')?.length ?? Number.NaN
}

function requests(figures: Figures): number {
  const entered = entries(figures)
  return entered * requestsOf.entry + (figures.visits - entered) * requestsOf.reading
}

function perYear(figures: Figures): Held {
  const all = [...grownBy(figures.model.before, figures.model.after).values()]
  const sum = (of: 'rows' | 'bytes') => all.reduce((total, one) => total + one[of], 0) / figures.groups / seasonsOfModel
  return { rows: sum('rows'), bytes: sum('bytes') }
}

function tables(figures: Figures): string[] {
  const of = [...grownBy(figures.model.before, figures.model.after)].map(([name, { rows, bytes }]) => {
    return { name, rows: rows / figures.groups / seasonsOfModel, bytes: bytes / figures.groups / seasonsOfModel }
  })
  const shown = of.filter(({ bytes }) => bytes >= kB).sort((a, b) => b.bytes - a.bytes)
  const line = (name: string, { rows, bytes }: Held) =>
    `| ${name} | ${rows < 10 ? rows.toFixed(1) : whole(rows)} | ${(bytes / kB).toFixed(1)} |`
  return [...shown.map((one) => line(`\`${one.name}\``, one)), line('all tables', perYear(figures))]
}

function loadsTold(loads: readonly number[]): string {
  if (loads.length === 0) return 'not looked at'
  return `${percentile(loads, 0.5).toFixed(1)} by the median of its minutes, ${Math.max(...loads).toFixed(1)} at most`
}

function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN
}

function each(seconds: number, asked: number): string {
  return ((seconds * 1000) / asked).toFixed(1)
}

function whole(value: number): string {
  return Math.round(value).toLocaleString('en-US')
}
