import type { FastifyInstance, FastifyRequest } from 'fastify'
import { trialRecord } from '../comparison/record/trial-record.queries.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { areaAsTyped, labourAsTyped, moneyAsTyped } from '../quantities/as-typed.ts'
import { decimalsOf } from '../quantities/money.ts'
import { readForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { askedOver } from './asked-over.ts'
import { restartForm } from './deciding.form.ts'
import { restartPage } from './restart.page.ts'
import { restartStart } from './restart-start.ts'
import { restartFigures } from './scenario-figures.ts'

const words = catalogue.deciding.restart

export function restartRoutes(app: FastifyInstance): void {
  app.get('/g/:group/decide/restart', { config: { access: 'reader' } }, async (request, reply) => {
    const { group, role } = request.member
    const thought = await thoughtOver(request)
    if (!thought) return reply.page('decisions/restart', { bed: null }, { title: words.title })
    const { bed, beds, start, typed, form, wrong } = thought
    const page = {
      bed,
      bedChoices: beds.map(({ id, name }) => ({ value: id, label: name })),
      from: fromSaid(start),
      typed,
      errors: form.kind === 'refused' && wrong ? form.errors : {},
      refused: form.kind === 'answer',
      result: form.kind === 'refused' ? null : restartPage({ ...form.value, bed: bed.name }, group),
      isKeeper: role === 'keeper',
    }
    return reply.page('decisions/restart', page, { title: words.title, status: wrong ? 422 : 200 })
  })

  app.get('/g/:group/decide/restart.json', { config: { access: 'reader' } }, async (request, reply) => {
    const thought = await thoughtOver(request)
    if (!thought) throw notFound()
    if (thought.form.kind === 'refused') return reply.status(422).send({ errors: thought.form.errors })
    const figures = restartFigures({ ...thought.form.value, bed: thought.bed.name })
    return { ...figures, currency: request.member.group.currency }
  })
}

/** What the record and the address say together; null where there is no bed. */
async function thoughtOver(request: FastifyRequest) {
  const { group } = request.member
  const asked = request.query as Record<string, unknown>
  const { record, beds } = await request.read(async (tx) => {
    const gardens = new Map((await gardensOf(tx, group.id)).map((garden) => [garden.id, garden.name]))
    const found = (await bedsOf(tx, group.id)).filter((bed) => gardens.has(bed.gardenId))
    return {
      record: await trialRecord(tx, group.id),
      beds: found.map(({ id, gardenId, name }) => ({ id, name: `${gardens.get(gardenId)}, ${name}` })),
    }
  })
  const bed = beds.find((one) => one.id === asked.bed) ?? beds[0]
  const start = bed && restartStart(record, bed.id)
  if (!bed || !start) return null
  const typed = askedOver(startTyped(start, request), asked)
  const form = readForm(restartForm(group), typed)
  // On first opening, what the record does not know is blank and not yet wrong.
  const wrong = form.kind === 'refused' && Object.keys(typed).some((name) => name in asked)
  return { bed, beds, start, typed, form, wrong }
}

type Start = NonNullable<ReturnType<typeof restartStart>>

function startTyped(start: Start, request: FastifyRequest): Record<string, string> {
  const { currency, areaUnit, labourRateMinorPerHour: wage } = request.member.group
  const rounded = (value: number) => String(Math.round(100 * value) / 100)
  return {
    area: areaAsTyped(start.areaCm2, areaUnit),
    hoe: start.hoe ? labourAsTyped(start.hoe.minutes, 1) : '',
    ...{ hoeLow: '2', hoeHigh: '5', coveredLow: '1', coveredHigh: '2', factor: '1.5' },
    cover: labourAsTyped(start.coverMinutes, 1),
    kgPerM2: start.harvest ? rounded(start.harvest.kgPerM2) : '',
    kgPerHour: start.harvest ? rounded(start.harvest.kgPerHour) : '',
    wage: wage == null ? '' : moneyAsTyped(wage, decimalsOf(currency)),
    ...{ pricePerKg: '', materials: '' },
  }
}

function fromSaid({ hoe, harvest }: Start) {
  const { from } = words
  return {
    ...{ cover: from.cover, covered: from.covered, hoeSeasons: from.hoeSeasons },
    hoe: hoe ? from.hoe(hoe.season) : from.hoeNone,
    yield: harvest ? from.yield(harvest.method, harvest.season) : from.yieldNone,
  }
}
