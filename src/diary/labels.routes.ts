import type { FastifyInstance, FastifyReply } from 'fastify'
import { newId } from '../db/new-id.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { labelsPage } from './labels.page.ts'
import { makeLabels, takeLabelOff } from './labels.queries.ts'
import { stillToWeigh } from './lots.queries.ts'
import { labelsOf } from './sealed.queries.ts'
import { secondReadingsOf } from './second-readings.queries.ts'
import { closingsOf, entriesOfWeek } from './week.queries.ts'
import { labelOffForm, labelsForm } from './weighing.form.ts'
import { type WeekRequest, type WeekRoute, weekIn } from './writing.routes.ts'

const words = () => wordsHere().weighing

/** Labels for a week's crates: who picks puts them on, who weighs sees nothing else. */
export function labelRoutes(app: FastifyInstance): void {
  const address = '/g/:group/weeks/:week/labels'
  app.get<WeekRoute>(address, { config: { access: 'keeper' } }, (request, reply) => show(request, reply, null))

  app.post<WeekRoute>(address, { config: { access: 'keeper' } }, async (request, reply) => {
    const week = weekIn(request)
    const form = readForm(labelsForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { group, personId } = request.member
    const chosen = new Set(form.value.plantingIds)
    const choices = new Set((await pageOf(request)).choices.map((one) => one.value))
    const labelled = new Set((await request.read((tx) => labelsOf(tx, group.id, week))).map((one) => one.plantingId))
    if ([...chosen].some((id) => !choices.has(id) && !labelled.has(id))) {
      return show(request, reply, refuseForm(request.body, { plantingIds: wordsHere().fields.notChosen }))
    }
    await request.write((tx) =>
      makeLabels(tx, { groupId: group.id, createdBy: personId }, { ...form.value, isoWeek: week }),
    )
    return reply.backTo(`/g/${group.slug}/weeks/${week}/labels`, words().labelsMade)
  })

  app.post<WeekRoute>(`${address}/removals`, { config: { access: 'keeper' } }, async (request, reply) => {
    const week = weekIn(request)
    const form = readForm(labelOffForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { id, slug } = request.member.group
    const done = await request.write((tx) => takeLabelOff(tx, id, week, form.value), form.value.reason)
    if (!done) return show(request, reply, refuseForm(request.body, { label: wordsHere().fields.notChosen }))
    return reply.backTo(`/g/${slug}/weeks/${week}/labels`, words().takenOff)
  })
}

async function pageOf(request: WeekRequest) {
  const { id, locale } = request.member.group
  const week = weekIn(request)
  const rows = await request.read(async (tx) => ({
    gardens: await gardensOf(tx, id),
    beds: await bedsOf(tx, id),
    plantings: await plantingsOf(tx, id),
    labels: await labelsOf(tx, id, week),
    stillToWeigh: await stillToWeigh(tx, id),
    closings: await closingsOf(tx, id, week),
    harvests: (await entriesOfWeek(tx, id, week)).harvests,
    readings: await secondReadingsOf(tx, id, week),
  }))
  const closed = new Set(rows.closings.filter((one) => one.what === 'weights').map((one) => one.gardenId))
  const weighed = new Set([...rows.harvests, ...rows.readings].map((one) => linkOf(one.plantingId)))
  return labelsPage({ ...rows, closed, weighed, week, locale })
}

async function show(request: WeekRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const page = await pageOf(request)
  const typed = { typed: { id: newId(), ...refused?.typed }, errors: refused?.errors ?? {} }
  return reply.page(
    'diary/labels',
    { ...page, ...typed },
    { title: words().labelsTitle(page.week), status: refused ? 422 : 200 },
  )
}
