import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { newId } from '../db/new-id.ts'
import { dayIn } from '../quantities/dates.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { closuresShown } from './closures.page.ts'
import { closureForm } from './garden.form.ts'
import { gardenPage } from './garden.page.ts'
import { gardenYear, saveClosure } from './garden.queries.ts'

type GardenRequest = FastifyRequest<{ Params: { garden: string } }>

export function gardenYearRoutes(app: FastifyInstance): void {
  app.get('/g/:group/gardens/:garden', { config: { access: 'reader' } }, (request, reply) =>
    show(request as GardenRequest, reply, null),
  )

  app.post('/g/:group/gardens/:garden/closures', { config: { access: 'recorder' } }, async (plain, reply) => {
    const request = plain as GardenRequest
    const form = readForm(closureForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { group, personId } = request.member
    const foreign = await request.write(async (tx) => {
      const year = await gardenYear(tx, group.id, request.params.garden)
      if (!year) throw notFound()
      if (!year.beds.some((bed) => bed.id === form.value.bedId)) return true
      await saveClosure(tx, { groupId: group.id, createdBy: personId }, form.value)
      return false
    })
    if (foreign) return show(request, reply, refuseForm(request.body, { bedId: catalogue.fields.notChosen }))
    return reply.backTo(`/g/${group.slug}/gardens/${request.params.garden}`, catalogue.timeline.closureSaved)
  })
}

async function show(request: GardenRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const rows = await request.read((tx) => gardenYear(tx, group.id, request.params.garden))
  if (!rows) throw notFound()
  const today = dayIn(group.timeZone, new Date())
  const page = {
    ...gardenPage(rows, group.locale, today),
    closures: closuresShown(rows, group.locale, today),
    typed: refused?.typed ?? { id: newId() },
    errors: refused?.errors ?? {},
    mayChange: role === 'keeper',
    mayRecord: role !== 'reader',
  }
  return reply.page('timeline/garden', page, { title: rows.garden.name, status: refused ? 422 : 200 })
}
