import { firstOf, nth } from '../lookups/nth.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { meanOf } from '../statistics/moments.ts'
import { catalogue } from '../words/catalogue.ts'
import { calibration } from './findings/calibration.ts'
import { type LayoutLine, layoutCalibration } from './findings/layout-calibration.ts'
import { sentenceCalibration } from './findings/sentence-calibration.ts'

const words = catalogue.figures
const yesOrNo = catalogue.seasons.yesOrNo

interface Entry {
  readonly key: string
  readonly name: string
  readonly how: string
  readonly example?: string
  readonly source?: string
  readonly not: string
}

const measures: readonly Entry[] = Object.entries(catalogue.measures.made).map(([key, made]) => ({ key, ...made }))
const findings: readonly Entry[] = words.findings
const deciding: readonly Entry[] = catalogue.deciding.howMade

/** What stands on a page of its own and is no measure: how often the intervals hold, and the names in files. */
const otherPages = ['calibration', 'calibration-layouts', 'calibration-sentence', 'tables', 'keys'] as const
type OtherPage = (typeof otherPages)[number]

const nameOf: Readonly<Record<OtherPage, string>> = {
  calibration: words.calibrationTitle,
  'calibration-layouts': words.layoutsTitle,
  'calibration-sentence': words.sentenceTitle,
  tables: words.tablesTitle,
  keys: words.keysTitle,
}

/** Every measure and finding by its name, in the groups in which they are met. */
export function figuresIndex() {
  const links = (entries: readonly { readonly key: string; readonly name: string }[]) =>
    entries.map(({ key, name }) => ({ key, name, address: `/figures/${key}` }))
  const others = links(otherPages.map((key) => ({ key, name: nameOf[key] })))
  return {
    groups: [
      { name: words.groups.measures, links: links(measures) },
      { name: words.groups.findings, links: links(findings) },
      { name: words.groups.deciding, links: links(deciding) },
      { name: words.groups.calibration, links: others.slice(0, 3) },
      { name: words.groups.programs, links: others.slice(3) },
    ],
  }
}

/** One page of it: a measure, or a table of what stands there; undefined where nothing is called that. */
export function figurePage(key: string, locale: string) {
  const entry = [...measures, ...findings, ...deciding].find((one) => one.key === key)
  if (entry) return { title: entry.name, entry, say: null, table: null }
  const other = otherPages.find((one) => one === key)
  return other && { title: nameOf[other], entry: null, ...tablePage(other, locale) }
}

function tablePage(page: OtherPage, locale: string) {
  const named = { id: page, caption: nameOf[page], captionUnseen: true }
  const head = (names: readonly string[], figuresFrom: number) =>
    names.map((name, place) => ({ name, figure: place >= figuresFrom }))
  const pages = {
    calibration: () => ({
      say: words.calibrationSay(formatNumber(nth(firstOf(calibration), 5), locale, 0)),
      table: { ...named, head: head(calibrationHead, 0), rows: calibrationRows(locale) },
    }),
    'calibration-layouts': () => ({
      say: layoutsSaid(locale),
      table: { ...named, head: head(words.layoutsHead, 2), rows: layoutRows(locale) },
    }),
    'calibration-sentence': () => ({
      say: sentenceSaid(locale),
      table: { ...named, head: head(words.sentenceHead, 2), rows: sentenceRows(locale) },
    }),
    tables: () => ({
      say: words.tablesSay,
      table: { ...named, head: head(words.tablesHead, 9), rows: words.tables.map((row) => [...row]) },
    }),
    keys: () => ({
      say: words.keysSay,
      table: {
        ...named,
        head: head([words.keysHead.key, words.keysHead.unit, words.keysHead.means], 9),
        rows: words.keys.map((row) => [...row]),
      },
    }),
  }
  return pages[page]()
}

const h = words.calibrationHead
const calibrationHead = [h.crops, h.seasons, h.spread, h.losses, h.effect, h.plots, h.method, h.seen, h.refused]

/** Shares in per cent, a dash where one season gives no interval. */
function calibrationRows(locale: string): string[][] {
  const percent = percentIn(locale)
  return calibration.map(([crops = 0, seasons = 0, times, losses, effect, trials = 1, refused = 0, ...shares]) => [
    String(crops),
    String(seasons),
    times === 2 ? words.twice : words.once,
    losses ? yesOrNo.yes : yesOrNo.no,
    formatNumber(effect ? 1.2 : 1, locale, 2),
    ...shares.map((share) => (refused === trials ? '–' : percent(share))),
    percent(refused / trials),
  ])
}

/** A row a design; its measures beside each other in every cell. */
function layoutRows(locale: string): string[][] {
  const designOf = ({ layout, how, units, methodBySeason }: LayoutLine) =>
    [layout, how, units, methodBySeason].join(' ')
  const designs = [...new Set(layoutCalibration.map(designOf))]
  return designs.flatMap((design) => {
    const lines = layoutCalibration.filter((line) => designOf(line) === design)
    const [first] = lines
    if (!first) return []
    const each = (of: (line: LayoutLine) => number, decimals: number) =>
      lines.map((line) => formatNumber(of(line), locale, decimals)).join(' · ')
    return [
      [
        words.layoutNames[first.layout],
        words.layoutHows[first.how],
        String(first.units),
        formatNumber(first.methodBySeason, locale, 2),
        each((line) => 100 * line.holds, 1),
        each((line) => 100 * line.told, 1),
        each((line) => 100 * line.toldOfMore, 1),
        each((line) => line.width, 1),
      ],
    ]
  })
}

function layoutsSaid(locale: string): string {
  const between = (lines: readonly LayoutLine[]) => {
    const shares = lines.map((line) => 100 * line.holds)
    return `${formatNumber(Math.min(...shares), locale, 1)}–${formatNumber(Math.max(...shares), locale, 1)} %`
  }
  const drawn = layoutCalibration.filter((line) => line.how === 'random')
  const chosen = layoutCalibration.filter(
    (line) => line.how === 'choice' && line.layout === 'gardens' && line.measure === 'weight',
  )
  const onTheWhole = meanOf(drawn.map((line) => line.holds))
  const trials = formatNumber(firstOf(drawn).trials, locale, 0)
  const percent = percentIn(locale)
  const refused = percent(meanOf(layoutCalibration.map((line) => line.refused)))
  return words.layoutsSay(trials, percent(onTheWhole), between(drawn), between(chosen), refused)
}

function sentenceRows(locale: string): string[][] {
  const percent = (share: number) => formatNumber(100 * share, locale, 1)
  return sentenceCalibration.map(({ layout, how, units, methodBySeason, told, outside, wrongSide }) => [
    words.layoutNames[layout],
    words.layoutHows[how],
    String(units),
    formatNumber(methodBySeason, locale, 2),
    percent(told),
    percent(outside),
    percent(wrongSide),
  ])
}

function sentenceSaid(locale: string): string {
  const percent = percentIn(locale)
  const drawn = sentenceCalibration.filter((line) => line.how === 'random')
  const chosen = sentenceCalibration.filter((line) => line.how === 'choice' && line.layout === 'gardens')
  const mean = (lines: typeof drawn, of: 'outside' | 'wrongSide') => percent(meanOf(lines.map((line) => line[of])))
  const trials = formatNumber(firstOf(drawn).trials, locale, 0)
  return words.sentenceSay(trials, mean(drawn, 'outside'), mean(drawn, 'wrongSide'), mean(chosen, 'outside'))
}

const percentIn = (locale: string) => (share: number) => `${formatNumber(100 * share, locale, 1)} %`
