import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import { newId } from '../db/new-id.ts'
import { choicesOf } from '../web/correcting.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { cropPricesOf } from './crop-prices.queries.ts'
import { priceAtLast } from './crop-prices.ts'
import { cropsPage } from './crops.page.ts'
import { newCropForm } from './seasons.form.ts'
import { cropsOf, plantingsOf, saveCrop } from './seasons.queries.ts'

const words = () => wordsHere().seasons

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
      return show(request, reply, refuseForm(request.body, { name: wordsHere().gardens.nameTaken }))
    }
    return reply.backTo(`/g/${group.slug}/crops`, words().saved)
  })
}

async function show(request: FastifyRequest, reply: FastifyReply, refused: RefusedForm | null) {
  const { group, role } = request.member
  const { crops, prices, plantings } = await request.read(async (tx) => ({
    crops: await cropsOf(tx, group.id),
    prices: await cropPricesOf(tx, group.id),
    plantings: await plantingsOf(tx, group.id),
  }))
  const page = {
    ...cropsPage(
      crops.map((crop) => ({ ...crop, priceMinorPerKg: priceAtLast(prices.get(crop.id) ?? []).minorPerKg })),
      { ...group, planted: new Set(plantings.map((one) => one.cropId)) },
    ),
    touchesChoices: [{ value: '', label: words().soilNotKnown }, ...choicesOf(words().yesOrNo)],
    typed: refused?.typed ?? { id: newId() },
    errors: refused?.errors ?? {},
    mayChange: role === 'keeper',
  }
  return reply.page('seasons/crops', page, { title: words().crops, status: refused ? 422 : 200 })
}
