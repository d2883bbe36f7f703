import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import { newId } from '../db/new-id.ts'
import { formatKilograms, formatMoney } from '../quantities/formatting.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { newCropForm } from './seasons.form.ts'
import { cropsOf, saveCrop } from './seasons.queries.ts'

const words = catalogue.seasons

/** The group's crops, with the figures that are kept for each and where they come from. */
export function cropRoutes(app: FastifyInstance): void {
  app.get('/g/:group/crops', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  app.post('/g/:group/crops', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(newCropForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const { group, personId } = request.member
    try {
      await request.write((tx) => saveCrop(tx, { groupId: group.id, createdBy: personId }, form.value))
    } catch (error) {
      if (constraintOf(error) !== 'crops_name_is_taken') throw error
      return show(request, reply, refuseForm(request.body, { name: catalogue.gardens.nameTaken }))
    }
    return reply.backTo(`/g/${group.slug}/crops`, words.saved)
  })
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const crops = await request.read((tx) => cropsOf(tx, group.id))
  const page = {
    crops: crops.map((crop) => ({
      id: crop.id,
      name: crop.name,
      family: crop.family ?? '',
      askAbove: crop.askAboveGPerM2 === null ? '' : formatKilograms(crop.askAboveGPerM2, group.locale),
      price: crop.priceMinorPerKg === null ? '' : formatMoney(crop.priceMinorPerKg, group.locale, group.currency),
      touchesSoil: crop.touchesSoil,
      source: crop.source ?? '',
    })),
    typed: refused?.typed ?? { id: newId() },
    errors: refused?.errors ?? {},
    mayChange: role === 'keeper',
  }
  return reply.page('seasons/crops', page, { title: words.crops, status: refused ? 422 : 200 })
}
