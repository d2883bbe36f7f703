import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { amend, markRemoved, rowOf } from '../db/amend.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { sent } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, correcting } from '../web/correcting.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { type FormWithFile, readFormWithFile } from '../web/form-with-file.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { weatherDays } from './notes.table.ts'
import { readWeather, sortIn, type WeatherFile } from './read-weather.ts'
import { askedForm, mostLetters, pastedForm, type WeatherGiven, weatherCorrection } from './weather.form.ts'
import { previewPage, weatherPage } from './weather.page.ts'
import { daysOfStation, saveWeather, type WeatherRow, weatherOf } from './weather.queries.ts'

const words = () => wordsHere().weather
const today = (request: FastifyRequest) => dayIn(request.member.group.timeZone, new Date())

/** A station's days: read, brought in from a file or the clipboard, first looked at and then stored. */
export function weatherRoutes(app: FastifyInstance): void {
  const uploading = { access: 'recorder', upload: mostLetters } as const
  app.get('/g/:group/weather', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/weather/preview', { config: uploading }, async (request, reply) => {
    const read = readAsked(request, await readFormWithFile(app, request, reply))
    if (read.kind === 'refused') return show(request, reply, read)
    return showPreview(request, reply, read, 200)
  })

  app.post('/g/:group/weather', { config: uploading }, async (request, reply) => {
    const read = readAsked(request, await readFormWithFile(app, request, reply))
    if (read.kind === 'refused') return show(request, reply, read)
    if (read.file.wrong.length > 0) return showPreview(request, reply, read, 422)
    const { group, personId } = request.member
    const { station, file } = read
    const added = await request.write(async (tx) => {
      const { fresh } = sortIn(file.days, await daysOfStation(tx, group.id, station))
      await saveWeather(tx, { groupId: group.id, createdBy: personId }, station, fresh)
      return fresh.length
    })
    const address = `/g/${group.slug}/weather?station=${encodeURIComponent(station)}`
    return reply.backTo(address, words().added(added))
  })

  correcting(app, weatherDay)
}

interface Read {
  readonly station: string
  readonly text: string
  readonly file: WeatherFile
}

async function showPreview(request: FastifyRequest, reply: FastifyReply, read: Read, status: number) {
  const { group } = request.member
  const { station, text, file } = read
  const standing = await request.read((tx) => daysOfStation(tx, group.id, station))
  const page = { ...previewPage(file, sortIn(file.days, standing), group.locale), station, text }
  return reply.page('weather/preview', page, { title: words().preview, status })
}

/** The text of the file, or what was pasted; refused where it cannot be read as a whole. */
function readAsked(request: FastifyRequest, { typed, bytes, tooLarge }: FormWithFile) {
  const form = readForm(pastedForm, typed)
  if (form.kind === 'refused') return form
  const { station, pasted } = form.value
  if (tooLarge) return refuseForm(typed, { pasted: words().tooLarge })
  const text = bytes ? bytes.toString('utf8') : sent(pasted)
  const file = readWeather(text, today(request), request.member.group.locale)
  if (file.refused) return refuseForm(typed, { pasted: words().refused[file.refused](file.leftOut) })
  return { kind: 'answer' as const, station, text, file }
}

const usual = { station: '', base: '5', from: '', to: '', season: '' }

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const asked = { ...usual, ...queryOf(request) }
  const form = readForm(askedForm, asked)
  const rows = await request.read(async (tx) => ({
    weather: await weatherOf(tx, group.id),
    seasons: await seasonsOf(tx, group.id),
    plantings: await plantingsOf(tx, group.id),
    beds: await bedsOf(tx, group.id),
    gardens: await gardensOf(tx, group.id),
  }))
  const read = form.kind === 'answer' ? form.value : { station: null, base: 5, from: null, to: null, season: null }
  const page = {
    ...weatherPage(rows, read, today(request), group.locale),
    asked,
    askedErrors: form.kind === 'refused' ? form.errors : {},
    seasonChoices: rows.seasons.map(({ id, name }) => ({ value: id, label: name })).reverse(),
    typed: refused?.typed ?? {},
    errors: refused?.errors ?? {},
    mayRecord: role !== 'reader',
  }
  const wrong = refused !== null || form.kind === 'refused'
  return reply.page('weather/weather', page, { title: words().title, status: wrong ? 422 : 200 })
}

const asTyped = (tenths: number | null) => (tenths === null ? '' : String(tenths / 10))

const weatherDay: Correctable<WeatherRow, WeatherGiven> = {
  kind: 'weather-days',
  access: 'recorder',
  find: (tx, groupId, id) => rowOf(tx, weatherDays, groupId, id),
  title: (row) => words().dayOf(row.station, row.day),
  fields: (row) => [
    { name: 'minimumTenthsC', label: words().fields.minimum, value: asTyped(row.minimumTenthsC) },
    { name: 'maximumTenthsC', label: words().fields.maximum, value: asTyped(row.maximumTenthsC) },
    { name: 'rainTenthsMm', label: words().fields.rain, value: asTyped(row.rainTenthsMm) },
  ],
  form: () => weatherCorrection,
  save: (tx, seen, given) => amend(tx, weatherDays, seen, given),
  remove: (tx, seen, reason) => markRemoved(tx, weatherDays, seen, reason),
  back: (row, request) => `/g/${request.member.group.slug}/weather?station=${encodeURIComponent(row.station)}`,
}
