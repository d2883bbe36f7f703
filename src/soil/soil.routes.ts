import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { idAfter, newId } from '../db/new-id.ts'
import { isThereOn } from '../gardens/areas-held.ts'
import { dayIn } from '../quantities/dates.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { fieldsOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { errorStored } from './laboratory-error.ts'
import type { SamplePlace } from './places.ts'
import { moreValues, soilReportForm } from './soil.form.ts'
import { soilPage } from './soil.page.ts'
import { samplePlacesOf, saveSoilTests, soilTestsOf } from './soil.queries.ts'

const words = () => wordsHere().soil

/** Soil tests: read over time, each extractant apart, and written down by recorders. */
export function soilRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/soil', { config: { access: 'recorder' } }, async (request, reply) => {
    const form = readForm(soilReportForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { group, personId } = request.member
    const { id, place, sampledOn, laboratory, depthMm, more, ...first } = form.value
    if (sampledOn > dayIn(group.timeZone, new Date())) {
      return show(request, reply, refuseForm(request.body, { sampledOn: words().dayAhead }))
    }
    const saved = await request.write(async (tx) => {
      const where = (await samplePlacesOf(tx, group.id)).find((one) => one.value === place)
      if (!where || !isThereOn(where, sampledOn)) return false
      const { siteId, gardenId, bedId } = where
      const sample = { siteId, gardenId, bedId, sampledOn, laboratory, depthMm }
      const values = [first, ...more].map(
        ({ value: { value, beyond }, lowUnder, highFrom, standardError, ...of }, i) => {
          const bands = lowUnder === null && highFrom === null ? null : { lowUnder, highFrom }
          return {
            ...sample,
            ...of,
            id: i === 0 ? id : idAfter(id, i),
            value,
            beyond,
            bands,
            ...errorStored(standardError, of.unit),
          }
        },
      )
      await saveSoilTests(tx, { groupId: group.id, createdBy: personId }, values)
      return true
    })
    if (!saved) return show(request, reply, refuseForm(request.body, { place: wordsHere().fields.notChosen }))
    return reply.backTo(`/g/${group.slug}/soil`, words().saved)
  })
}

/** The lines for more values of the report, as they were typed, with what is wrong at each cell. */
function moreLines(refused: RefusedForm | null) {
  const typed = fieldsOf(refused?.typed.more)
  return Array.from({ length: moreValues }, (_, line) => ({
    line,
    typed: fieldsOf(typed[String(line)]),
    error: (name: string) => refused?.errors[`more.${line}.${name}`],
  }))
}

/** How a place is called in a list. */
export const samplePlaceName = (place: SamplePlace): string => {
  if (place.bedId) return words().bed(place.garden, place.bed)
  return place.gardenId ? words().wholeGarden(place.garden) : words().wholeSite(place.site)
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const { tests, places } = await request.read(async (tx) => ({
    tests: await soilTestsOf(tx, group.id),
    places: await samplePlacesOf(tx, group.id),
  }))
  const known = (of: (test: (typeof tests)[number]) => string | null) => [
    ...new Set(tests.map(of).filter((one) => one !== null)),
  ]
  const page = {
    ...soilPage(tests, places, group.locale),
    placeChoices: places
      .filter((place) => isThereOn(place, dayIn(group.timeZone, new Date())))
      .map((place) => ({ value: place.value, label: samplePlaceName(place) })),
    known: {
      laboratories: known((test) => test.laboratory),
      analytes: known((test) => test.analyte),
      extractants: known((test) => test.extractant),
      units: known((test) => test.unit),
    },
    typed: refused?.typed ?? { id: newId() },
    more: moreLines(refused),
    errors: refused?.errors ?? {},
    mayRecord: role !== 'reader',
  }
  return reply.page('soil/soil', page, { title: words().title, status: refused ? 422 : 200 })
}
