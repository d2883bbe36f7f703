import { join } from 'node:path'
import { Eta } from 'eta'
import { describe, expect, it } from 'vitest'
import { comparePage, measuringShown } from '../../src/comparison/compare.page.ts'
import { findingsPage } from '../../src/comparison/findings/findings.page.ts'
import { findingsTold } from '../../src/comparison/findings/findings-told.page.ts'
import { replicatedPage } from '../../src/comparison/findings/replicated.page.ts'
import { sideBySideShown } from '../../src/comparison/findings/side-by-side.page.ts'
import { sideBySide } from '../../src/comparison/findings/side-by-side.ts'
import { summaryOfRecord } from '../../src/comparison/findings/summary-of-record.ts'
import { summaryTold } from '../../src/comparison/findings/summary-told.page.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { errorOfMeasuring, readingsOf } from '../../src/comparison/totals/error-of-measuring.ts'
import { wordsFor } from '../../src/words/locales.ts'
import { plain } from '../support/page-checks.ts'
import { eightTrials } from './eight-trials/trials.ts'

const eta = new Eta({ views: join(process.cwd(), 'views'), autoTrim: [false, 'nl'] })
const told = { locale: 'en-NZ', currency: 'NZD' }

/** All that Compare says of a trial over its seasons, part by part, as it is read. */
function wholeText(record: TrialRecord): string {
  const words = wordsFor(told.locale)
  const seasonIds = record.seasons.map((one) => one.id)
  const asked = seasonIds.length === 1 ? (seasonIds[0] ?? null) : null
  const table = firstTable(record, asked)
  const said = findingsPage(record, seasonIds, { question: null, ...told })
  const { referenceId, found } = said
  const summary = summaryTold(
    summaryOfRecord(record, seasonIds, { referenceId, found, table }),
    told.locale,
    told.currency,
  )
  const side = sideBySideShown(sideBySide(record, table, { ...said, seasonIds }), told)
  const page = {
    ...comparePage(table, told.locale, told.currency),
    ...{
      said: findingsTold(said, told.locale),
      replicated: replicatedPage(record, seasonIds, { ...said, locale: told.locale }),
    },
    measuring: measuringShown(errorOfMeasuring(readingsOf(record, seasonIds)), told.locale),
  }
  const sure = summary.sure.map(({ about, said: how }) => `${about}: ${how.join('; ')}`)
  const first = [summary.title, ...summary.sentences, summary.price ?? '', summary.rests, ...sure, summary.settle ?? '']
  const part = (title: string, view: string, it: object) =>
    `\n== ${title}\n${read(eta.render(`/comparison/${view}`, { words, ...it }))}`
  return `${[
    first.filter((line) => line !== '').join('\n'),
    part('Side by side', 'side-by-side', { side }),
    part('Crop by crop', 'matched', { page }),
    part('Over the seasons, why, losses, work', 'explained', { page }),
    part('What else can fool', 'doubts', { page: { ...page, besides: [] } }),
    part('The layout', 'replicated', { page }),
    part('All crops', 'all-crops', { page }),
  ].join('\n')}\n`
}

/** A line a paragraph, list item or row; cells between bars. The list that a phone shows repeats the table and is left out. */
function read(html: string): string {
  return html
    .replace(/<div class="side-list">[\s\S]*?<p class="rests">[\s\S]*?<\/div>/, '')
    .replace(/<svg[\s\S]*?<\/svg>/g, '')
    .replace(/\s+/g, ' ')
    .replace(/<\/t[dh]>/g, ' | ')
    .split(/<\/(?:p|h\d|li|tr|caption|summary|dt|dd|ul)>/)
    .map((line) => plain(line).trim())
    .filter((line) => line !== '')
    .join('\n')
}

/** What must never stand on one page, and what must never stand on any. */
const never = [
  /undefined|NaN|null|Infinity/,
  /times those of .* in /,
  /with all weeks closed that it rests on/,
  /more than the places of each season account for/,
  /in one mixed model \(REML, Satterthwaite\)/,
  /\b1 (seasons|crops|places|gardens|beds|degrees)\b/,
  /0\.00 to \d/,
]
const neverTogether = [
  [/nothing can be compared like with like/, /\d matched crops?/],
  [/cannot tell the method from the plot|one garden a method/, /About the methods, with/],
  [/could not be told apart by weight/, /gave (more|less) than/],
] as const

describe('what Compare says of eight trials whose truth is known', () => {
  for (const [name, record] of Object.entries(eightTrials)) {
    const text = wholeText(record)
    it(`${name}: as it was read, sentence by sentence, and kept`, async () => {
      await expect(text).toMatchFileSnapshot(`./eight-trials/${name.replaceAll(' ', '-')}.txt`)
    })
    it(`${name}: nothing that a neighbour would not say, and nothing beside its opposite`, () => {
      expect(never.filter((pattern) => pattern.test(text))).toEqual([])
      const beside = neverTogether.filter(([one, other]) => one.test(text) && other.test(text))
      expect(beside).toEqual([])
    })
  }
})
