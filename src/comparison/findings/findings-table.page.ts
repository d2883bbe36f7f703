import { formatNumber } from '../../quantities/formatting.ts'
import type { Words } from '../../words/catalogue.ts'
import { wordsFor } from '../../words/locales.ts'
import type { Finding } from './findings.ts'
import { sideKeys, sideMeasures } from './side-by-side.ts'
import { widest } from './summary.ts'
import { times } from './summary-told.page.ts'
import { turnedBy } from './yield-finding.ts'

/** Every finding as a line: whose, of what, how many times with its range, over how many seasons, how sure. */
export function findingsTable(found: readonly Finding[], locale: string) {
  const words = wordsFor(locale)
  const w = words.findings.table
  return {
    caption: w.caption,
    captionUnseen: true,
    head: [
      { name: w.beside },
      { name: w.times, figure: true },
      { name: w.range, figure: true },
      { name: w.said },
      { name: w.seasons, figure: true },
      { name: w.sure },
    ],
    rows: found.map((one) => lineOf(one, words, locale)),
  }
}

/** The garden where each method has one, else the method; and the measure. */
function nameOf(one: Finding, words: Words): string {
  const single = one.gardensB.length === 1 && one.gardensA.length === 1 && one.gardensA[0] !== one.gardensB[0]
  return `${single ? one.gardensB[0] : one.methodB}: ${words.side.names[measureOf(one)]}`
}

function measureOf(one: Finding) {
  const burden = 'burden' in one ? one.burden : 'divided' in one ? one.divided : null
  return sideKeys.find((key) => sideMeasures[key] === burden) ?? 'weight'
}

function lineOf(one: Finding, words: Words, locale: string): string[] {
  const name = nameOf(one, words)
  const w = words.findings.table
  if (!('ratio' in one) || one.ratio === null) return [name, '–', '–', w.refused[refusalOf(one)], '–', '–']
  const ratio = times(one.ratio, locale)
  if (!('low' in one)) {
    const seasons = 'seasons' in one ? one.seasons : 1
    return [name, ratio, '–', w.refused[refusalOf(one)], formatNumber(seasons, locale, 0), '–']
  }
  const nothing = one.high / one.low > widest
  const range = nothing ? '–' : `${times(one.low, locale)}–${times(one.high, locale)}`
  return [name, ratio, range, saidOf(one, words, nothing), formatNumber(one.seasons, locale, 0), sureOf(one, words)]
}

function refusalOf(one: Finding): keyof Words['findings']['table']['refused'] {
  if (one.code === 'only divided') return 'only divided'
  if (one.code === 'one season') return 'one season'
  if (one.code === 'failed season') return 'failed season'
  return one.code === 'places say nothing' ? 'few places' : 'nothing matched'
}

type Tested = Extract<Finding, { readonly low: number }>

function saidOf(one: Tested, words: Words, nothing: boolean): string {
  const w = words.findings.table
  if (one.code === 'alike') return w.alike
  if (nothing) return words.findings.cannotTell(one.seasons)
  if (one.low > 1 || one.high < 1) {
    const open = one.code.endsWith('not seen') || turnedBy(one.missing)
    return open ? w.open : w.told
  }
  return w.notTold
}

function sureOf(one: Tested, words: Words): string {
  const levels = words.summary.levels
  if ('about' in one) return levels[one.about.of === 'methods' ? one.about.certainty : one.about.certainty.plots]
  return levels[typeof one.certainty === 'object' ? one.certainty.plots : one.certainty]
}
