// How long a mixed model takes here and in lme4, on the same made-up trials: six methods (fixed), thirty crops and ten seasons
// (random, crossed). npm run benchmark; needs R with lme4, lmerTest and jsonlite. The table stands in mixed-model.md beside
// this file.
import { writeFileSync } from 'node:fs'
import { cpus, loadavg, release, type } from 'node:os'
import { designs, fittedBoth } from './mixed-model-fits.ts'

const load = (loadavg()[0] ?? 0).toFixed(1)
const { fitted, versions } = fittedBoth(designs())
const ms = (value: number) => value.toFixed(1)
const ratio = (a: readonly number[], b: readonly number[]) => (median(a) / median(b)).toFixed(2)
const lines = fitted.map(({ name, here, inR }) => {
  const cells = [
    ...[ms(median(here.fits)), ms(median(inR.fits)), ratio(here.fits, inR.fits)],
    ...[ms(median(here.spent)), ms(median(inR.spent)), ratio(here.spent, inR.spent)],
    ...[ms(here.first), ms(inR.first), ms(median(here.dfs)), ms(median(inR.dfs))],
  ]
  return `| ${[name, ...cells].join(' | ')} |`
})
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

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  return ((sorted[Math.floor((sorted.length - 1) / 2)] ?? 0) + (sorted[Math.ceil((sorted.length - 1) / 2)] ?? 0)) / 2
}
