// The fits of made-up trials, here and in lme4: ten of each inside one process, so that neither's start counts; both must
// find the same. Needs R with lme4, lmerTest and jsonlite.
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { columnsOf } from '../../src/statistics/design-columns.ts'
import { fitMixedModel } from '../../src/statistics/fit-mixed-model.ts'
import { crossProducts, fixedEffects, profileAt } from '../../src/statistics/reml.ts'
import { satterthwaiteDf } from '../../src/statistics/satterthwaite.ts'
import { varianceInformation } from '../../src/statistics/variance-information.ts'

interface Plot {
  readonly y: number
  readonly method: string
  readonly crop: string
  readonly season: string
}

interface Design {
  readonly name: string
  readonly file: string
  readonly plots: readonly Plot[]
}

interface InR {
  /** The fit before the ten that are counted. */
  readonly first: number
  readonly fits: readonly number[]
  readonly spent: readonly number[]
  readonly dfs: readonly number[]
  readonly criterion: number
  readonly variances: Readonly<Record<string, number>>
  readonly df: readonly number[]
}

/** Milliseconds: of the first fit, of each of ten by the clock and of the processor, of the degrees of freedom alone. */
interface Fitted {
  readonly name: string
  readonly here: Pick<InR, 'first' | 'fits' | 'spent' | 'dfs'>
  readonly inR: Pick<InR, 'first' | 'fits' | 'spent' | 'dfs'>
}

/** Six methods (fixed), thirty crops and ten seasons (random, crossed). */
export const ofUsualSize = (): Design => ({ name: '1,800 plots', file: 'a.csv', plots: plotsOf(1, 1) })

export const designs = (): readonly Design[] => [
  ofUsualSize(),
  { name: 'a tenth of them lost', file: 'b.csv', plots: plotsOf(1, 0.9) },
  { name: '18,000 plots', file: 'c.csv', plots: plotsOf(10, 1) },
]

/** Fits each design in R and then here. */
export function fittedBoth(given: readonly Design[]): {
  readonly fitted: readonly Fitted[]
  readonly versions: Readonly<Record<string, string>>
} {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-benchmark-'))
  for (const { file, plots } of given) {
    const lines = plots.map(({ y, method, crop, season }) => [y, method, crop, season].join(','))
    writeFileSync(join(folder, file), `y,method,crop,season\n${lines.join('\n')}\n`)
  }
  execFileSync('Rscript', [fileURLToPath(new URL('./mixed-model.R', import.meta.url)), folder], { stdio: 'inherit' })
  const inR = JSON.parse(readFileSync(join(folder, 'lmer.json'), 'utf8')) as Record<string, InR> & {
    readonly versions: unknown
  }
  rmSync(folder, { recursive: true })
  const fitted = given.map(({ name, file, plots }) => besideR(name, plots, inR[file] as InR))
  return { fitted, versions: inR.versions as Record<string, string> }
}

function besideR(name: string, plots: readonly Plot[], theirs: InR): Fitted {
  const input = {
    y: plots.map((plot) => plot.y),
    fixed: { method: plots.map((plot) => plot.method) },
    random: { crop: plots.map((plot) => plot.crop), season: plots.map((plot) => plot.season) },
  }
  const first = timed(() => fitMixedModel(input))
  const fits = Array.from({ length: 10 }, () => timed(() => fitMixedModel(input)))
  const found = first.result
  if (found.kind !== 'answer') throw new Error(`${name}: no fit`)
  same(`${name}: criterion`, found.remlCriterion, theirs.criterion)
  for (const [of, value] of Object.entries(theirs.variances))
    same(`${name}: ${of}`, found.varianceComponents[of] ?? 0, value)
  for (const [i, df] of theirs.df.entries()) same(`${name}: df`, found.coefficients[i]?.df ?? 0, df)
  const apart = dfAlone(input, found.varianceComponents)
  const dfs = Array.from({ length: 10 }, () => timed(apart))
  for (const [i, df] of theirs.df.entries()) same(`${name}: df apart`, dfs[0]?.result[i] ?? 0, df)
  const here = {
    first: first.took,
    fits: fits.map((fit) => fit.took),
    spent: fits.map((fit) => fit.spent),
    dfs: dfs.map((one) => one.took),
  }
  return { name, here, inR: theirs }
}

/** The degrees of freedom alone, for a fit that is there. */
function dfAlone(
  { y, fixed, random }: { y: number[]; fixed: { method: string[] }; random: Record<'crop' | 'season', string[]> },
  variances: Readonly<Record<string, number>>,
): () => number[] {
  const columns = [y.map(() => 1), ...columnsOf(fixed).map((column) => column.values)]
  const names = ['crop', 'season'] as const
  const levels = names.map((name) => [...new Set(random[name])])
  const factors = names.map((name, k) => random[name].map((label) => levels[k]?.indexOf(label) ?? 0))
  const data = crossProducts(
    y,
    columns,
    factors,
    levels.map((one) => one.length),
  )
  const residual = variances.residual ?? 1
  const theta = names.map((name) => Math.sqrt((variances[name] ?? 0) / residual))
  const profile = profileAt(data, theta)
  if (!profile) throw new Error('no profile')
  const effects = fixedEffects(data, profile)
  return () => {
    const information = varianceInformation(data, { theta, ...effects, residual })
    return (information && satterthwaiteDf(information)) ?? []
  }
}

/** Plots on the log scale, `each` a method, crop and season, of which a share stays. */
function plotsOf(each: number, stays: number): Plot[] {
  const chance = chanceFrom(2027 + each)
  const crops = Array.from({ length: 30 }, () => 0.4 * chance.normal())
  const seasons = Array.from({ length: 10 }, () => 0.15 * chance.normal())
  return Array.from({ length: 6 }, (_, m) => m)
    .flatMap((m) =>
      crops.flatMap((crop, c) =>
        seasons.flatMap((season, s) =>
          Array.from({ length: each }, () => ({
            ...{ y: 1 + 0.05 * m + crop + season + 0.25 * chance.normal(), stays: chance.uniform() < stays },
            ...{ method: `m${m}`, crop: `c${c}`, season: `s${s}` },
          })),
        ),
      ),
    )
    .filter((plot) => plot.stays)
}

/** Milliseconds by the clock, and those of the processor, its compiling beside included. */
function timed<T>(f: () => T): { readonly took: number; readonly spent: number; readonly result: T } {
  const [start, used] = [performance.now(), process.cpuUsage()]
  const result = f()
  const [took, { user, system }] = [performance.now() - start, process.cpuUsage(used)]
  return { took, spent: (user + system) / 1000, result }
}

function same(what: string, found: number, expected: number): void {
  if (!(Math.abs(found - expected) <= 1e-4 * Math.abs(expected)))
    throw new Error(`${what}: ${found} against ${expected}`)
}
