import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import { lyingOver, sumOfAreas } from '../gardens/areas-held.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { keysOf } from '../lookups/keys.ts'
import { logAddress } from '../lookups/log-address.ts'
import { asShown, sent } from '../lookups/unsaid.ts'
import { dayIn } from '../quantities/dates.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { readForm } from '../web/form.ts'
import { queryOf, textAsked } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { spreadingsByGarden } from './balance.queries.ts'
import { scenarioForm } from './organic.form.ts'
import { bandShown, type OrganicSeries, organicSeries } from './organic.page.ts'
import { type BandAssumed, organicBand } from './organic-band.ts'
import { type Brought, broughtTo } from './organic-inputs.ts'
import { placeValue, type SamplePlace } from './places.ts'
import { samplePlacesOf, soilTestsOf } from './soil.queries.ts'
import { samplePlaceName } from './soil.routes.ts'

const words = () => wordsHere().soil.organic

/** What a scenario takes where its reader has typed nothing. */
const usual = { brought: '', organicShare: '50', humified: '', decay: '', bulkDensity: '1.3', years: '50' }

/** Where soil organic matter will level off, as a scenario whose assumptions stand in the address. */
export function organicRoutes(app: FastifyInstance): void {
  app.get('/g/:group/soil/organic-matter', { config: { access: 'reader' } }, async (request, reply) => {
    const { group } = request.member
    const asked = queryOf(request)
    const typed = { ...usual, ...asked }
    const { series, places, brought } = await request.read((tx) => rowsFor(tx, request, sent(textAsked(request, 'of'))))
    const one = series.find((each) => each.id === asked.of) ?? series[0]
    const form = readForm(scenarioForm, typed)
    const course =
      one && form.kind === 'answer' ? courseOf(one, form.value, { brought, places, locale: group.locale }) : null
    const page = {
      choices: series.map((each) => ({ value: each.id, label: nameOf(each, places) })),
      of: asShown(one?.id),
      typed,
      errors: form.kind === 'refused' ? form.errors : {},
      known: knownShown(brought, group.locale),
      depth: one?.depthMm == null ? null : formatNumber(one.depthMm / 10, group.locale, 0),
      course,
      logAddress: logAddressOf(request, course, typed),
      // No series of tests has no tests.
      tests: one?.tests.length ?? 0,
    }
    return reply.page('soil/organic', page, { title: words().title, status: form.kind === 'refused' ? 422 : 200 })
  })
}

/** Of what was worked out alone, for whoever may write it down. */
function logAddressOf({ member, url }: FastifyRequest, course: ReturnType<typeof courseOf>, typed: typeof usual) {
  if (member.role !== 'keeper' || !course || !('answer' in course)) return null
  const { title, fields } = words()
  const filled = keysOf(usual).filter((name) => typed[name] !== '')
  const assumptions = [...filled.map((name) => `${fields[name]}: ${typed[name]}`), course.rests, ...course.sure]
  return logAddress(member.group.slug, { question: title, finding: course.answer.join(' '), assumptions, from: url })
}

async function rowsFor(tx: Tx, request: FastifyRequest, of: string) {
  const { group } = request.member
  const [tests, places] = [await soilTestsOf(tx, group.id), await samplePlacesOf(tx, group.id)]
  const series = organicSeries(tests)
  const gardenId = (series.find((each) => each.id === of) ?? series[0])?.tests[0]?.gardenId ?? null
  const today = dayIn(group.timeZone, new Date())
  const seasons = (await seasonsOf(tx, group.id)).filter((season) => season.startsOn <= today)
  const beds = (await bedsOf(tx, group.id)).filter((bed) => bed.gardenId === gardenId)
  const spreadings = (await spreadingsByGarden(tx, group.id)).filter((spread) => spread.gardenId === gardenId)
  // What was brought is of all these seasons: its ground is their mean.
  const ofSeasons = seasons.reduce((sum, season) => sum + sumOfAreas(lyingOver(beds, season)), 0)
  const bedAreaCm2 = seasons.length === 0 ? 0 : Math.round(ofSeasons / seasons.length)
  return { series, places, brought: broughtTo(spreadings, { bedAreaCm2, seasons: seasons.length }) }
}

interface Given extends Omit<BandAssumed, 'broughtGPerM2'> {
  readonly brought: number | null
  readonly organicShare: number
}

/** Null where the depth or what was brought is not known: nothing is put in its place; too much for a soil is said. */
interface Around {
  readonly brought: Brought
  readonly places: readonly SamplePlace[]
  readonly locale: string
}

function courseOf(one: OrganicSeries, given: Given, { brought: { dryGPerM2 }, places, locale }: Around) {
  const broughtGPerM2 = given.brought ?? (dryGPerM2 === null ? null : (dryGPerM2 * given.organicShare) / 100)
  if (broughtGPerM2 === null || one.depthMm === null) return null
  const { bulkDensity, years } = given
  const decay = given.decay === null ? null : given.decay / 100
  const humified = given.humified === null ? null : given.humified / 100
  const assumed = { broughtGPerM2, humified, decay, bulkDensity, years }
  const tests = one.tests.map((test) => ({ day: test.sampledOn, percent: Number(test.value) }))
  const found = organicBand(tests, one.depthMm, assumed)
  if (found.kind === 'refused') return { tooMuch: found.reason === 'out of range' ? found.detail : null }
  const depth = formatNumber(one.depthMm / 10, locale, 0)
  const brought = formatNumber(broughtGPerM2, locale, 0)
  return { tooMuch: null, ...bandShown(found, tests, { place: placeOf(one, places), depth, brought }, locale) }
}

const knownShown = ({ dryGPerM2, unknown }: Brought, locale: string) => ({
  dry: dryGPerM2 === null ? null : formatNumber(dryGPerM2, locale, 0),
  unknown,
})

function nameOf(series: OrganicSeries, places: readonly SamplePlace[]): string {
  return words().seriesName(placeOf(series, places), series.extractant, series.tests.length)
}

function placeOf({ tests: [first] }: OrganicSeries, places: readonly SamplePlace[]): string {
  const place = places.find((one) => first && one.value === placeValue(first))
  return place ? samplePlaceName(place) : ''
}
