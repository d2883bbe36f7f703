import { type ComparePage, rowsShown } from '../comparison/compare.page.ts'
import type { findingsPage } from '../comparison/findings/findings.page.ts'
import { findingsTable } from '../comparison/findings/findings-table.page.ts'
import { findingsTold } from '../comparison/findings/findings-told.page.ts'
import type { replicatedPage } from '../comparison/findings/replicated.page.ts'
import type { Summary } from '../comparison/findings/summary.ts'
import { summaryTold } from '../comparison/findings/summary-told.page.ts'
import type { FirstTable } from '../comparison/matched/first-table.ts'
import { comparePictures } from '../comparison/pictures/compare-pictures.page.ts'
import type { PictureFigures } from '../comparison/pictures/picture-figures.page.ts'
import type { PictureKey } from '../comparison/pictures/picture-keys.ts'
import type { FigureTables } from '../comparison/rows/figure-rows.ts'
import type { DecidedTold } from '../decisions/decided-told.ts'
import { outcomeShown } from '../decisions/outcome.page.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatArea, formatDay, formatNumber } from '../quantities/formatting.ts'
import { firstSheet } from './first-sheet.page.ts'
import { readOwnWords } from './own-words.ts'
import { leftOut, picturesIn, sectionOfPicture } from './pictures.ts'
import { type Section, sectionsIn } from './sections.ts'
import type { GardenTold, Told } from './told.ts'

/** What a report holds: as it was frozen, or as it is today. */
export interface Contents {
  readonly page: ComparePage & {
    readonly said?: ReturnType<typeof findingsPage>
    readonly replicated?: ReturnType<typeof replicatedPage>
  }
  readonly table: FirstTable
  /** Every other figure by table; not in reports of before these were kept. */
  readonly tables?: FigureTables
  readonly units: Readonly<Record<string, string>>
  readonly group: string
  readonly locale: string
  readonly timeZone: string
  readonly currency: string
  /** Not in reports of before these were told. */
  readonly told?: Told
  /** Where the part was chosen: what was decided at the end of these seasons. */
  readonly decided?: readonly DecidedTold[]
  readonly seasons?: readonly string[]
  /** What the comparison says in a few sentences; not in reports of before it was kept. */
  readonly summary?: Summary
  /** Of the pictures that were chosen; not where none was, nor in reports of before they could be. */
  readonly pictures?: readonly PictureFigures[]
}

export interface Edition {
  readonly id: string
  readonly state: string
  readonly edition: number
  readonly frozenAt: Date | null
}

export interface Shown {
  readonly id: string
  readonly title: string
  readonly words: string
  readonly state: string
  readonly sections: unknown
  readonly pictures: unknown
  readonly edition: number
  readonly contents: Contents
  readonly dataCutOff: number | null
  readonly serviceVersion: string | null
  readonly checksum: string | null
  readonly frozenAt: Date | null
  /** The finished editions of the same report, and the address of each. */
  readonly editions: readonly Edition[]
  readonly addressOf: (edition: Edition) => string
  readonly names: readonly string[]
  readonly now: Date
}

/** A report as it is read: rows to exactly what its view writes. */
export function reportPage(shown: Shown) {
  const { contents, edition } = shown
  const { locale, timeZone } = contents
  const said = contents.page.said && findingsTold(contents.page.said, locale)
  const parts = sectionsIn(shown.sections)
  const day = (instant: Date) => formatDay(dayIn(timeZone, instant), locale)
  return {
    ...contents.page,
    rows: rowsShown(contents.page.rows),
    ...partsOf(said),
    title: shown.title,
    group: contents.group,
    state: shown.state,
    checksum: shown.checksum,
    edition,
    first: firstSheet(contents),
    summary: contents.summary ? summaryTold(contents.summary, locale, contents.currency) : null,
    findingLines: said?.found ? findingsTable(said.found, locale) : null,
    readOn: parts.filter((part) => shownPart(part, contents)),
    blocks: readOwnWords(shown.words),
    parts: Object.fromEntries(parts.map((part) => [part, true])),
    ...picturesShown(shown, parts),
    frozenOn: shown.frozenAt ? day(shown.frozenAt) : null,
    openedOn: day(shown.now),
    changeNumber: shown.dataCutOff === null ? null : formatNumber(shown.dataCutOff, locale, 0),
    serviceVersion: shown.serviceVersion,
    earlier: shown.editions
      .filter((one) => one.edition < edition)
      .sort((a, b) => b.edition - a.edition)
      .map((one) => ({
        edition: one.edition,
        address: shown.addressOf(one),
        day: one.frozenAt ? day(one.frozenAt) : null,
      })),
    later: laterOf(shown),
    seasonNames: contents.seasons?.join(', ') ?? null,
    names: shown.names.join(', '),
    gardens: contents.told?.gardens.map((garden) => gardenLine(garden, locale)) ?? [],
    // Reports frozen before it was counted say nothing of it.
    changedAfterClosing: contents.told?.changedAfterClosing ?? 0,
    tooSoon: contents.told?.tooSoon?.map((one) => ({ ...one, picked: formatDay(one.pickedOn, locale) })) ?? [],
    decided: (contents.decided ?? []).map((one) => decidedShown(one, contents)),
    workingRules: contents.told?.methods ?? [],
  }
}

/** A part that has nothing to show does not stand among those to read on. */
function shownPart(part: Section, { table, told, decided }: Contents): boolean {
  if (part === 'gardens') return told !== undefined && told.gardens.length > 0
  if (part === 'decided') return decided !== undefined && decided.length > 0
  return part === 'counting' || table.methods.length > 1
}

type Said = Contents['page']['said']

/** What was found, parted into what a keeper can choose to show: over the seasons, and why. */
function partsOf(said: Said) {
  return {
    ...(said ? { said } : {}),
    overSeasons: said?.seasons ? { seasons: said.seasons, gaps: [] } : null,
    why: said ? { ...said, seasons: null } : null,
    gapsShown: (said?.gaps ?? []).length > 0,
  }
}

/** Each picture at its part; those whose part the report does not have stand together. */
function picturesShown({ contents, pictures }: Shown, parts: readonly Section[]) {
  const drawn = comparePictures(contents.pictures ?? [], contents.locale)
  const at = (place: Section | null) =>
    drawn.filter(({ key }) => whereOf(key, parts) === place).map((one) => one.picture)
  const keys = drawn.map((one) => one.key)
  return {
    pictures: { ...Object.fromEntries(parts.map((part) => [part, at(part)])), alone: at(null) },
    // Reports frozen before seasons were kept with them count none.
    picturesLeftOut: leftOut(picturesIn(pictures), keys, contents.seasons?.length ?? 0),
  }
}

function whereOf(key: PictureKey, parts: readonly Section[]): Section | null {
  const place = sectionOfPicture[key]
  return place && parts.includes(place) ? place : null
}

function laterOf(shown: Shown): string | null {
  const latest = shown.editions.reduce<Edition | null>((a, b) => (a && a.edition > b.edition ? a : b), null)
  return latest && latest.edition > shown.edition ? shown.addressOf(latest) : null
}

/** A decision as a reader reads it: the answer of its page, what that took for granted, and what came of it. */
function decidedShown({ figure, assumptions, ...one }: DecidedTold, { locale, currency }: Contents) {
  return {
    ...one,
    day: formatDay(one.decidedOn, locale),
    assumptions: assumptions === null ? [] : assumptions.split('\n'),
    outcome: figure && outcomeShown(figure.of, figure.names, figure.happened, { locale, currency }),
  }
}

const gardenLine = (garden: GardenTold, locale: string) => ({
  garden: garden.garden,
  site: garden.site,
  methods: garden.methods.join(', '),
  gross: formatArea(garden.grossAreaCm2, locale),
  beds: garden.beds,
  bedArea: formatArea(garden.bedAreaCm2, locale),
  before: garden.groundBefore,
  exposure: garden.exposure,
  soil: garden.soil,
  writers: garden.writers,
  mostAtOnce: garden.mostAtOnce,
})
