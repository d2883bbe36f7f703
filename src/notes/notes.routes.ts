import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { isThereOn } from '../gardens/areas-held.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { asShown } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type FormAnswer, type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { pageNumber } from '../web/page-number.ts'
import { pagerOf } from '../web/pager.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { countedAt, plantingChoices } from './counted-planting.ts'
import type { NotePlace } from './ground.ts'
import { noteKinds, usualCountNames } from './kinds.ts'
import { type CountGiven, countForm, type NoteGiven, noteForm, type PatchGiven, patchForm } from './notes.form.ts'
import { notesPage } from './notes.page.ts'
import {
  countedGroundOf,
  countsOf,
  notePlacesOf,
  notesOf,
  patchesOf,
  saveCount,
  saveNote,
  savePatch,
} from './notes.queries.ts'
import { picturesOf } from './pictures.queries.ts'

const words = () => wordsHere().notes

interface Placed {
  readonly place: string
  readonly seenOn?: IsoDate
  readonly countedOn?: IsoDate
}

type NewOf<Given> = Given & { readonly id: string }
type At = { readonly gardenId: string; readonly bedId: string | null }
type Where<T extends At> = ({ readonly kind: 'answer' } & T) | { readonly kind: 'refused'; readonly errors: Errors }
type Errors = Record<string, string>

/** Field notes, counts and patches of weeds: read by all, written down by recorders. */
export function noteRoutes(app: FastifyInstance): void {
  app.get('/g/:group/notes', { config: { access: 'reader' } }, (request, reply) => showNotes(request, reply, null))

  const adding = <T extends Placed, W extends At>({ form, read, dayField, whereOf, save }: Adding<T, W>) =>
    app.post(`/g/:group/notes/${form}`, { config: { access: 'recorder' } }, async (request, reply) => {
      const answer = read(request)
      if (answer.kind === 'refused') return showNotes(request, reply, { form, ...answer })
      const { group, personId } = request.member
      const { place: _place, ...given } = answer.value
      if (asShown(answer.value[dayField]) > dayIn(group.timeZone, new Date())) {
        return showNotes(request, reply, { form, ...refuseForm(request.body, { [dayField]: words().dayAhead }) })
      }
      const errors = await request.write(async (tx) => {
        const where = await whereOf(tx, group.id, answer.value)
        if (where.kind === 'refused') return where.errors
        const { kind: _kind, ...at } = where
        await save(tx, { groupId: group.id, createdBy: personId }, { ...given, ...at } as unknown as New<T, W>)
        return null
      })
      if (errors) return showNotes(request, reply, { form, ...refuseForm(request.body, errors) })
      return reply.backTo(`/g/${group.slug}/notes`, words().saved)
    })

  adding<NewOf<NoteGiven>, At>({
    form: 'notes',
    dayField: 'seenOn',
    whereOf: placeAsked,
    save: saveNote,
    read: (request) => readForm(noteForm, request.body),
  })
  adding<NewOf<CountGiven>, At & { plantingId: string | null }>({
    form: 'counts',
    dayField: 'countedOn',
    save: saveCount,
    whereOf: async (tx, groupId, given) => countedAt(given, await countedGroundOf(tx, groupId)),
    read: (request) => readForm(countForm, request.body),
  })
  adding<NewOf<PatchGiven>, At>({
    form: 'patches',
    dayField: 'seenOn',
    whereOf: placeAsked,
    save: savePatch,
    read: (request) => readForm(patchForm(request.member.group.areaUnit), request.body),
  })
}

type New<T extends Placed, W extends At> = Omit<T, 'place'> & W

interface Adding<T extends Placed, W extends At> {
  readonly form: string
  readonly dayField: 'seenOn' | 'countedOn'
  read(request: FastifyRequest): FormAnswer<T>
  whereOf(tx: Tx, groupId: string, given: T): Promise<Where<W>>
  save(tx: Tx, author: Author, given: New<T, W>): Promise<void>
}

async function placeAsked(
  tx: Tx,
  groupId: string,
  { place, seenOn }: Placed & { readonly seenOn: IsoDate },
): Promise<Where<At>> {
  const where = (await notePlacesOf(tx, groupId)).find((one) => one.value === place)
  if (!where) return { kind: 'refused', errors: { place: wordsHere().fields.notChosen } }
  if (!isThereOn(where, seenOn)) return { kind: 'refused', errors: { place: wordsHere().fields.notThereThen } }
  return { kind: 'answer', gardenId: where.gardenId, bedId: where.bedId }
}

export const placeName = (place: NotePlace): string =>
  place.bedId ? words().bed(place.garden, place.bed) : words().wholeGarden(place.garden)

/** A note as it is called in a list: its day and its first words(). */
const noteName = (note: { seenOn: IsoDate; words: string }, locale: string) =>
  `${formatDay(note.seenOn, locale)}: ${note.words.slice(0, 60)}`

type Refused = (RefusedForm & { form: string }) | null

export async function showNotes(request: FastifyRequest, reply: FastifyReply, refused: Refused) {
  const { group, role } = request.member
  const asked = queryOf(request)
  const rows = await request.read(async (tx) => ({
    ...(await countedGroundOf(tx, group.id)),
    notes: await notesOf(tx, group.id),
    counts: await countsOf(tx, group.id),
    patches: await patchesOf(tx, group.id),
    pictures: await picturesOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
  }))
  const gardens = rows.places.filter((place) => place.bedId === null)
  const today = dayIn(group.timeZone, new Date())
  const filter = {
    kind: asShown(noteKinds.find((kind) => kind === asked.kind)),
    garden: asShown(gardens.find((garden) => garden.gardenId === asked.garden)?.gardenId),
    page: pageNumber.parse(asked.page),
  }
  const { shown, ...told } = notesPage(rows, filter, group.locale)
  const { kind, garden } = filter
  const page = {
    ...told,
    pager: pagerOf(shown, {
      name: words().notes,
      words: wordsHere().turning,
      locale: group.locale,
      to: (one) => `/g/${group.slug}/notes?${new URLSearchParams({ kind, garden, page: String(one) })}`,
    }),
    filter,
    kinds: noteKinds,
    usualCounts: usualCountNames,
    gardenChoices: gardens.map((garden) => ({ value: garden.gardenId, label: garden.garden })),
    placeChoices: rows.places
      .filter((place) => isThereOn(place, today))
      .map((place) => ({ value: place.value, label: placeName(place) })),
    plantingChoices: plantingChoices(rows, rows.seasons, group.locale),
    noteChoices: rows.notes.slice(0, 100).map((note) => ({ value: note.id, label: noteName(note, group.locale) })),
    knownSpecies: [...new Set(rows.patches.map((patch) => patch.species))],
    of: (form: string) => ({
      typed: refused?.form === form ? refused.typed : { id: newId() },
      errors: refused?.form === form ? refused.errors : {},
      open: refused?.form === form,
    }),
    mayRecord: role !== 'reader',
  }
  return reply.page('notes/notes', page, { title: words().title, status: refused ? 422 : 200 })
}
