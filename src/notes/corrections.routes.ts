import type { FastifyInstance, FastifyRequest } from 'fastify'
import { amend, ofTable, type RecordTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { asShown } from '../lookups/unsaid.ts'
import { areaAsTyped } from '../quantities/as-typed.ts'
import { dayIn } from '../quantities/dates.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, choicesOf, correcting, type FieldShown } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { countedAt, plantingChoices } from './counted-planting.ts'
import { type NotePlace, notePlace } from './ground.ts'
import {
  type CountGiven,
  countCorrection,
  type NoteGiven,
  noteCorrection,
  type PatchGiven,
  patchCorrection,
} from './notes.form.ts'
import { type CountRow, countedGroundOf, type NoteRow, notePlacesOf, type PatchRow } from './notes.queries.ts'
import { placeName } from './notes.routes.ts'
import { counts, fieldNotes, weedPatches } from './notes.table.ts'

const words = () => wordsHere().notes
const f = () => words().fields

type AtPlaces<Row> = Row & { readonly places: readonly NotePlace[] }

/** What notes, counts and patches have in common: a place that is chosen, and a day that has come. */
function placed<Row extends { gardenId: string; bedId: string | null }, Given extends { place: string }>(
  table: RecordTable,
  dayOf: (given: Given) => [string, string],
) {
  return {
    ...ofTable(table),
    access: 'recorder' as const,
    find: async (tx: Tx, groupId: string, id: string): Promise<AtPlaces<Row> | undefined> => {
      const row = (await rowOf(tx, table, groupId, id)) as Row | undefined
      return row && { ...row, places: await notePlacesOf(tx, groupId) }
    },
    save: (
      tx: Tx,
      seen: { id: string; groupId: string; version: number },
      given: Given,
      { places }: AtPlaces<Row>,
    ): Promise<boolean> => {
      const { place, ...rest } = given
      const where = places.find((one) => one.value === place)
      return amend(tx, table, seen, { ...rest, ...(where && { gardenId: where.gardenId, bedId: where.bedId }) })
    },
    refuse: async (_tx: Tx, { places }: AtPlaces<Row>, given: Given | null, request: FastifyRequest) => {
      if (!given) return undefined
      const [field, day] = dayOf(given)
      if (day > dayIn(request.member.group.timeZone, new Date())) return { [field]: words().dayAhead }
      return places.some((one) => one.value === given.place) ? undefined : { place: wordsHere().fields.notChosen }
    },
    back: (_row: unknown, request: FastifyRequest) => `/g/${request.member.group.slug}/notes`,
  }
}

const placeField = (row: AtPlaces<{ gardenId: string; bedId: string | null }>): FieldShown => ({
  name: 'place',
  label: f().place,
  value: asShown(notePlace(row.places, row)?.value),
  options: row.places.map((place) => ({ value: place.value, label: placeName(place) })),
})

const note: Correctable<AtPlaces<NoteRow>, NoteGiven> = {
  ...placed<NoteRow, NoteGiven>(fieldNotes, (given) => ['seenOn', given.seenOn]),
  kind: 'field-notes',
  title: (row) => `${words().kinds[row.kind as keyof ReturnType<typeof words>['kinds']]}, ${row.seenOn}`,
  fields: (row) => [
    placeField(row),
    { name: 'seenOn', label: f().seenOn, value: row.seenOn, type: 'date' },
    { name: 'kind', label: f().kind, value: row.kind, options: choicesOf(words().kinds) },
    { name: 'words', label: f().words, value: row.words, type: 'textarea' },
    {
      name: 'severity',
      label: f().severity,
      value: row.severity === null ? '' : String(row.severity),
      options: [{ value: '', label: words().noSeverity }, ...choicesOf(words().severities)],
    },
  ],
  form: () => noteCorrection,
}

type Found<T extends (...given: never[]) => Promise<unknown>> = Awaited<ReturnType<T>>
type OnGround = CountRow & Found<typeof countedGroundOf> & { readonly seasons: Found<typeof seasonsOf> }

const count: Correctable<OnGround, CountGiven> = {
  ...ofTable(counts),
  access: 'recorder',
  kind: 'counts',
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, counts, groupId, id)
    return row && { ...row, ...(await countedGroundOf(tx, groupId)), seasons: await seasonsOf(tx, groupId) }
  },
  save: (tx, seen, { place, ...given }, ground) => {
    const at = countedAt({ place, ...given }, ground)
    if (at.kind === 'refused') return Promise.resolve(false)
    return amend(tx, counts, seen, { ...given, gardenId: at.gardenId, bedId: at.bedId, plantingId: at.plantingId })
  },
  refuse: async (_tx, ground, given, request) => {
    if (!given) return undefined
    if (given.countedOn > dayIn(request.member.group.timeZone, new Date())) return { countedOn: words().dayAhead }
    const at = countedAt(given, ground)
    return at.kind === 'refused' ? at.errors : undefined
  },
  back: (_row, request) => `/g/${request.member.group.slug}/notes`,
  title: (row) => `${row.what}, ${row.countedOn}`,
  fields: (row, request) => [
    placeField(row),
    {
      name: 'plantingId',
      label: f().planting,
      hint: f().plantingHint,
      value: asShown(row.plantingId),
      options: [
        { value: '', label: words().ofPlace },
        ...plantingChoices(row, row.seasons, request.member.group.locale),
      ],
    },
    { name: 'countedOn', label: f().countedOn, value: row.countedOn, type: 'date' },
    { name: 'what', label: f().what, value: row.what },
    { name: 'method', label: f().method, hint: f().methodHint, value: row.method },
    { name: 'value', label: f().value, value: row.value },
    { name: 'outOf', label: f().outOf, value: asShown(row.outOf) },
    { name: 'unit', label: f().unit, value: row.unit },
  ],
  form: () => countCorrection,
}

const patch: Correctable<AtPlaces<PatchRow>, PatchGiven> = {
  ...placed<PatchRow, PatchGiven>(weedPatches, (given) => ['seenOn', given.seenOn]),
  kind: 'weed-patches',
  title: (row) => `${row.species}, ${row.seenOn}`,
  fields: (row, request) => [
    placeField(row),
    { name: 'seenOn', label: f().seenOn, value: row.seenOn, type: 'date' },
    { name: 'species', label: f().species, value: row.species },
    {
      name: 'areaCm2',
      label: f().area,
      hint: f().areaHint,
      value: row.areaCm2 === null ? '' : areaAsTyped(row.areaCm2, request.member.group.areaUnit),
    },
    {
      name: 'cover',
      label: f().cover,
      hint: f().coverHint,
      value: row.coverPermille === null ? '' : String(row.coverPermille / 10),
    },
    { name: 'shootsPerM2', label: f().shoots, value: row.shootsPerM2 === null ? '' : String(row.shootsPerM2) },
    { name: 'position', label: f().position, hint: f().positionHint, value: asShown(row.position) },
  ],
  form: (request) => patchCorrection(request.member.group.areaUnit),
}

export function noteCorrections(app: FastifyInstance): void {
  correcting(app, note)
  correcting(app, count)
  correcting(app, patch)
}
