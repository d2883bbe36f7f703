import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { ptukey } from './ptukey.ts'
import { qtukey } from './qtukey.ts'

interface GroupMean {
  readonly name: string
  readonly mean: number
  readonly n: number
}

interface TukeyPair {
  readonly a: string
  readonly b: string
  /** b - a */
  readonly difference: number
  readonly low: number
  readonly high: number
  readonly p: number
}

interface TukeyHsd {
  readonly pairs: readonly TukeyPair[]
  /** Groups that share a letter were not shown to differ; it does not say that they are alike. */
  readonly letters: Readonly<Record<string, string>>
}

/**
 * All pairs of means at a common error (Tukey; Kramer 1956, Biometrics 12:307, where n differ), with letters by
 * insertion and absorption (Piepho 2004, Journal of Computational and Graphical Statistics 13:456-466). Refuses fewer
 * than two groups, one without values, and an error mean square that is not above 0.
 */
export function tukeyHsd(
  groups: readonly GroupMean[],
  { mse, df, level = 0.95 }: { readonly mse: number; readonly df: number; readonly level?: number },
): Answer<TukeyHsd> | Refusal {
  const k = groups.length
  if (k < 2) return refused('too few', `${k} groups`)
  if (!groups.every(({ n }) => n > 0)) return refused('too few', 'a group without values')
  if (!groups.every(({ mean }) => Number.isFinite(mean))) return refused('not a number', 'a mean')
  if (!(mse > 0 && df > 0)) return refused('no error term', `mean square ${mse} on ${df}`)
  const q = qtukey(level, k, df)
  const pairs = groups.flatMap((a, i) =>
    groups.slice(i + 1).map((b): TukeyPair => {
      const se = Math.sqrt((mse / 2) * (1 / a.n + 1 / b.n))
      const difference = b.mean - a.mean
      const p = Math.max(0, 1 - ptukey(Math.abs(difference) / se, k, df))
      return { a: a.name, b: b.name, difference, low: difference - q * se, high: difference + q * se, p }
    }),
  )
  const apart = pairs.filter((pair) => pair.p < 1 - level).map((pair): [string, string] => [pair.a, pair.b])
  return answer({
    pairs,
    letters: lettersOf(
      [...groups].sort((a, b) => a.mean - b.mean).map((one) => one.name),
      apart,
    ),
  })
}

/** Names in the order in which letters are given out; each pair that differs shares no letter. */
function lettersOf(names: readonly string[], apart: readonly (readonly [string, string])[]): Record<string, string> {
  let columns: ReadonlySet<string>[] = [new Set(names)]
  for (const [a, b] of apart) {
    columns = columns.flatMap((column) =>
      column.has(a) && column.has(b) ? [without(column, a), without(column, b)] : [column],
    )
    columns = columns.filter(
      (one, i) => !columns.some((other, j) => i !== j && within(one, other) && (one.size < other.size || j < i)),
    )
  }
  const place = (column: ReadonlySet<string>) => names.findIndex((name) => column.has(name))
  const inOrder = [...columns].sort((one, other) => place(one) - place(other))
  return Object.fromEntries(
    names.map((name) => [
      name,
      inOrder.flatMap((column, i) => (column.has(name) ? ['abcdefghijklmnopqrstuvwxyz'[i] ?? '?'] : [])).join(''),
    ]),
  )
}

const without = (column: ReadonlySet<string>, name: string) => new Set([...column].filter((one) => one !== name))
const within = (one: ReadonlySet<string>, other: ReadonlySet<string>) => [...one].every((name) => other.has(name))
