import { inPages } from '../lookups/in-pages.ts'
import { asShown, linked, nameIfAny } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatArea, formatAsWritten, formatDay, formatNumber } from '../quantities/formatting.ts'
import type { Answer, Refusal } from '../statistics/answer.ts'
import { type NotePlace, notePlace } from './ground.ts'
import { type Change, type PatchSeen, patchCourses } from './weed-course.ts'

interface At {
  readonly id: string
  readonly gardenId: string
  readonly bedId: string | null
}

interface NotesRows {
  readonly places: readonly NotePlace[]
  readonly notes: readonly (At & { seenOn: IsoDate; kind: string; words: string; severity: number | null })[]
  readonly pictures: readonly { id: string; noteId: string; caption: string | null; width: number; height: number }[]
  readonly plantings: readonly { id: string; crop: string; cultivar: string }[]
  readonly counts: readonly (At & {
    plantingId: string | null
    countedOn: IsoDate
    what: string
    method: string
    value: string
    outOf: string | null
    unit: string
  })[]
  readonly patches: readonly (At & PatchSeen)[]
  readonly seasons: readonly { name: string; startsOn: IsoDate; endsOn: IsoDate }[]
}

/** What the address asks to see; empty for all. */
interface Filter {
  readonly kind: string
  readonly garden: string
  /** Of the notes, from 1 on. */
  readonly page: number
}

/** Notes as dated entries, counts by what and how they were counted, and each patch of a weed over time. */
export function notesPage(rows: NotesRows, filter: Filter, locale: string) {
  const here = (one: At) => filter.garden === '' || one.gardenId === filter.garden
  const place = (one: At) => notePlace(rows.places, one) ?? null
  const plantings = new Map(rows.plantings.map((one) => [one.id, `${one.crop}, ${one.cultivar}`]))
  const asked = rows.notes.filter((note) => here(note) && (filter.kind === '' || note.kind === filter.kind))
  const shown = inPages(asked, filter.page)
  return {
    shown,
    notes: shown.rows.map((note) => ({
      id: note.id,
      kind: note.kind,
      words: note.words,
      severity: note.severity,
      place: place(note),
      day: formatDay(note.seenOn, locale),
      pictures: rows.pictures.filter((picture) => picture.noteId === note.id),
    })),
    counts: countGroups(rows.counts.filter(here)).map((group) => ({
      what: group[0].what,
      method: group[0].method,
      rows: group.map((one) => ({
        id: one.id,
        place: place(one),
        day: formatDay(one.countedOn, locale),
        unit: one.unit,
        planting: linked(plantings, one.plantingId) ?? null,
        ...valueShown(one, locale),
      })),
    })),
    patches: patchCourses(rows.patches.filter(here)).map(({ sightings }) => ({
      species: asShown(sightings[0]?.seen.species),
      position: asShown(sightings[0]?.seen.position),
      place: sightings[0] ? place(sightings[0].seen) : null,
      sightings: sightings.map(({ seen, area, shoots }) => ({
        id: seen.id,
        day: formatDay(seen.seenOn, locale),
        season: nameIfAny(rows.seasons.find((one) => one.startsOn <= seen.seenOn && seen.seenOn <= one.endsOn)),
        area: seen.areaCm2 === null ? null : formatArea(seen.areaCm2, locale),
        cover: seen.coverPermille === null ? null : shareShown(seen.coverPermille, locale),
        shoots: seen.shootsPerM2 === null ? null : formatNumber(seen.shootsPerM2, locale, 0),
        areaChange: changeShown(area, locale),
        shootsChange: changeShown(shoots, locale),
      })),
    })),
  }
}

/** Per mille as per cent, with a decimal where there is one. */
const shareShown = (permille: number, locale: string) =>
  `${formatNumber(permille / 10, locale, permille % 10 ? 1 : 0)} %`

type Count = NotesRows['counts'][number]

/** Counts by one method in one unit: others are other quantities. In the order of the first of each. */
function countGroups(counts: readonly Count[]): [Count, ...Count[]][] {
  const groups = new Map<string, [Count, ...Count[]]>()
  for (const one of counts) {
    const key = JSON.stringify([one.what.toLowerCase(), one.method.trim().toLowerCase(), one.unit])
    const there = groups.get(key)
    if (there) there.push(one)
    else groups.set(key, [one])
  }
  return [...groups.values()]
}

function valueShown({ value, outOf }: Count, locale: string) {
  const printed = (text: string) => formatAsWritten(text, locale)
  const percent = outOf === null || Number(outOf) === 0 ? null : (100 * Number(value)) / Number(outOf)
  return {
    value: printed(value),
    outOf: outOf === null ? null : printed(outOf),
    percent: percent === null ? null : formatNumber(percent, locale, 0),
  }
}

/** A rate to three digits, and the weeks to halve or double; the reason where there is none. */
function changeShown(change: Answer<Change> | Refusal | null, locale: string) {
  if (change === null) return null
  if (change.kind === 'refused') return { kind: 'refused' as const, reason: change.reason }
  return {
    kind: change.perWeek < 0 ? ('shrinks' as const) : ('grows' as const),
    rate: formatNumber(Math.abs(change.perWeek), locale, 3),
    weeks: formatNumber(change.weeksToHalf, locale, 1),
  }
}
