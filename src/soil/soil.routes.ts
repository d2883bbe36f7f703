import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { newId } from '../db/new-id.ts'
import { isThereOn } from '../gardens/areas-held.ts'
import { dayIn } from '../quantities/dates.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import type { SamplePlace } from './places.ts'
import { soilTestForm } from './soil.form.ts'
import { soilPage } from './soil.page.ts'
import { samplePlacesOf, saveSoilTest, soilTestsOf } from './soil.queries.ts'

const words = () => wordsHere().soil

/** Soil tests: read over time, each extractant apart, and written down by recorders. */
export function soilRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/soil', { config: { access: 'recorder' } }, async (request, reply) => {
    const form = readForm(soilTestForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { group, personId } = request.member
    const { place, lowUnder, highFrom, ...given } = form.value
    if (given.sampledOn > dayIn(group.timeZone, new Date())) {
      return show(request, reply, refuseForm(request.body, { sampledOn: words().dayAhead }))
    }
    const saved = await request.write(async (tx) => {
      const where = (await samplePlacesOf(tx, group.id)).find((one) => one.value === place)
      if (!where || !isThereOn(where, given.sampledOn)) return false
      const { siteId, gardenId, bedId } = where
      const bands = lowUnder === null && highFrom === null ? null : { lowUnder, highFrom }
      const author = { groupId: group.id, createdBy: personId }
      await saveSoilTest(tx, author, { ...given, siteId, gardenId, bedId, bands })
      return true
    })
    if (!saved) return show(request, reply, refuseForm(request.body, { place: wordsHere().fields.notChosen }))
    return reply.backTo(`/g/${group.slug}/soil`, words().saved)
  })
}

/** How a place is called in a list. */
export const placeName = (place: SamplePlace): string => {
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
      .map((place) => ({ value: place.value, label: placeName(place) })),
    known: {
      laboratories: known((test) => test.laboratory),
      analytes: known((test) => test.analyte),
      extractants: known((test) => test.extractant),
      units: known((test) => test.unit),
    },
    typed: refused?.typed ?? { id: newId() },
    errors: refused?.errors ?? {},
    mayRecord: role !== 'reader',
  }
  return reply.page('soil/soil', page, { title: words().title, status: refused ? 422 : 200 })
}
