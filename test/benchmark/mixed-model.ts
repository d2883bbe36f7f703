// How long a mixed model takes here and in lme4, on the same made-up trials: six methods (fixed), thirty crops and ten seasons
// (random, crossed). npm run benchmark; needs R with lme4, lmerTest and jsonlite. Ten fits of each inside one process, so that
// neither's start counts; both must find the same. The table stands in mixed-model.md beside this file.
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, loadavg, release, tmpdir, type } from 'node:os'
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

const designs = [
  { name: '1,800 plots', file: 'a.csv', plots: plotsOf(1, 1) },
  { name: 'a tenth of them lost', file: 'b.csv', plots: plotsOf(1, 0.9) },
  { name: '18,000 plots', file: 'c.csv', plots: plotsOf(10, 1) },
]

const load = (loadavg()[0] ?? 0).toFixed(1)
const folder = mkdtempSync(join(tmpdir(), 'evenground-benchmark-'))
for (const { file, plots } of designs) {
  const lines = plots.map(({ y, method, crop, season }) => [y, method, crop, season].join(','))
  writeFileSync(join(folder, file), `y,method,crop,season\n${lines.join('\n')}\n`)
}
execFileSync('Rscript', [fileURLToPath(new URL('./mixed-model.R', import.meta.url)), folder], { stdio: 'inherit' })
const inR = JSON.parse(readFileSync(join(folder, 'lmer.json'), 'utf8')) as Record<string, InR> & {
  readonly versions: unknown
}
rmSync(folder, { recursive: true })

const lines = designs.map(({ name, file, plots }) => lineOf(name, plots, inR[file] as InR))
const versions = inR.versions as Record<string, string>
const text = `# Fitting a mixed model: here and in lme4

Six methods fixed, thirty crops and ten seasons at random and crossed; made-up plots from a seed. Medians of ten fits
inside one process each, in milliseconds by the clock and of the processor, after one fit that stands apart: it pays for
what is loaded and compiled on the way. Our fit always holds Satterthwaite's degrees of freedom; lme4's does not, so what
they take is also measured apart (lmerTest: \`as_lmerModLmerTest\` and the table of coefficients). Both found the same REML
criterion, variances and degrees of freedom to a relative 1e-4, where lme4 was told to search to the end (bobyqa, 1e-10);
what is timed is its default.

| trial | here | lmer | ratio | processor, here | processor, lmer | ratio | first, here | first, lmer | df alone, here | df alone, lmerTest |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
${lines.join('\n')}

${cpus()[0]?.model.trim()}, ${cpus().length} cores, ${type()} ${release()}; Node ${process.versions.node}; R ${versions.R}, lme4 ${versions.lme4}, lmerTest ${versions.lmerTest}.
Made by \`npm run benchmark\`; the machine's load was ${load} before it began: figures differ by machine and by what else it does.
`
writeFileSync(new URL('./mixed-model.md', import.meta.url), text)
process.stdout.write(text)

function lineOf(name: string, plots: readonly Plot[], theirs: InR): string {
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
  const [ours, spent, own] = [fits.map((fit) => fit.took), fits.map((fit) => fit.spent), dfs.map((one) => one.took)]
  const ratio = (a: readonly number[], b: readonly number[]) => (median(a) / median(b)).toFixed(2)
  const ms = (value: number) => value.toFixed(1)
  const cells = [
    ...[ms(median(ours)), ms(median(theirs.fits)), ratio(ours, theirs.fits)],
    ...[ms(median(spent)), ms(median(theirs.spent)), ratio(spent, theirs.spent)],
    ...[ms(first.took), ms(theirs.first), ms(median(own)), ms(median(theirs.dfs))],
  ]
  return `| ${[name, ...cells].join(' | ')} |`
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

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  return ((sorted[Math.floor((sorted.length - 1) / 2)] ?? 0) + (sorted[Math.ceil((sorted.length - 1) / 2)] ?? 0)) / 2
}

function same(what: string, found: number, expected: number): void {
  if (!(Math.abs(found - expected) <= 1e-4 * Math.abs(expected)))
    throw new Error(`${what}: ${found} against ${expected}`)
}
