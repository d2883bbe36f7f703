export const rounds = Number(process.env.BENCHMARK_ROUNDS ?? 7)

export interface Taken {
  readonly ms: number
  /** Of this process, the database aside; null where the work is another process's. */
  readonly processor: number | null
}

/** One line of the table: some work beside what it is measured against, or why it could not be measured here. */
export interface Line {
  readonly work: string
  readonly against: string
  /** Null where nothing is wished for: it is there to be known. */
  readonly most: number | null
  readonly found: { readonly one: Taken; readonly other: Taken } | string
}

/** Where lines go as soon as they are found. */
export type Tell = (line: Line) => void

interface Turns {
  /** Before each of them, not counted. */
  readonly before?: () => Promise<unknown>
}

/** Medians of both, taken turn about; a first turn of each is not counted. */
export async function turnAbout(one: () => Promise<Taken>, other: () => Promise<Taken>, { before }: Turns = {}) {
  const taken: { one: Taken[]; other: Taken[] } = { one: [], other: [] }
  for (let round = 0; round <= rounds; round++) {
    for (const [key, work] of [
      ['one', one],
      ['other', other],
    ] as const) {
      await before?.()
      const found = await work()
      if (round > 0) taken[key].push(found)
    }
  }
  return { one: middle(taken.one), other: middle(taken.other) }
}

/**
 * No collection of garbage is forced before it: a forced one throws away what the engine has learned of the code with
 * the garbage, so that it measured pages as no service gives them (a page that shows nothing took four times as long).
 */
export const timed = (work: () => Promise<unknown>) => async (): Promise<Taken> => {
  const [before, from] = [process.cpuUsage(), performance.now()]
  await work()
  const ms = performance.now() - from
  const { user, system } = process.cpuUsage(before)
  return { ms, processor: (user + system) / 1000 }
}

export function middle(taken: readonly Taken[]): Taken {
  const processors = taken.flatMap(({ processor }) => (processor === null ? [] : [processor]))
  return {
    ms: medianOf(taken.map(({ ms }) => ms)),
    processor: processors.length > 0 ? medianOf(processors) : null,
  }
}

export const medianOf = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN

/** Megabytes of the whole process and of its heap, once everything that nobody holds is gone. */
export function memory(): string {
  global.gc?.()
  const { rss, heapUsed } = process.memoryUsage()
  return `${(rss / 1024 / 1024).toFixed(0)} | ${(heapUsed / 1024 / 1024).toFixed(0)}`
}

export function row({ work, against, most, found }: Line): string {
  if (typeof found === 'string')
    return `| ${[work, against, most ?? '-', found, '-', '-', '-', '-', '-'].join(' | ')} |`
  const { one, other } = found
  const ratio = one.ms / other.ms
  const took = [one.ms, other.ms, one.processor, other.processor].map(digits)
  const reached = most === null ? '-' : ratio <= most ? 'yes' : 'no'
  return `| ${[work, against, most ?? '-', ratio.toFixed(2), reached, ...took].join(' | ')} |`
}

const digits = (ms: number | null) => (ms === null ? '-' : ms < 10 ? ms.toFixed(2) : ms.toFixed(ms < 100 ? 1 : 0))
