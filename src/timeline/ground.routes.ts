import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type GroundAct, groundChange } from '../gardens/ground-change.ts'
import { dayIn } from '../quantities/dates.ts'
import { closedOverGround } from '../seasons/closed-ground.queries.ts'
import { groundOf, layPartAlike, saveGross, saveGround } from '../seasons/ground.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { type GroundAsked, groundActs, groundForms } from './ground.form.ts'
import { groundPage } from './ground.page.ts'

const words = () => wordsHere().timeline.ground

interface GroundRoute {
  Params: { garden: string }
}
type GroundRequest = FastifyRequest<GroundRoute>
type Given = z.output<ReturnType<typeof groundForms>[GroundAsked]>
type Errors = Record<string, string>

/** The ground of a garden with the days from which it holds, and what can be done to it. */
export function groundRoutes(app: FastifyInstance): void {
  const address = '/g/:group/gardens/:garden/ground'
  app.get<GroundRoute>(address, { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  for (const act of groundActs) {
    app.post<GroundRoute>(`${address}/${act}`, { config: { access: 'keeper' } }, async (request, reply) => {
      const form = readForm<Given>(groundForms(request.member.group.areaUnit)[act], request.body)
      if (form.kind === 'refused') return show(request, reply, { act, ...form })
      const errors = await changed(request, act, form.value)
      if (errors) return show(request, reply, { act, ...refuseForm(request.body, errors) })
      return reply.backTo(`/g/${request.member.group.slug}/gardens/${request.params.garden}/ground`, words().saved)
    })
  }
}

async function changed(request: GroundRequest, act: GroundAsked, given: Given): Promise<Errors | null> {
  const { group, personId } = request.member
  const author = { groupId: group.id, createdBy: personId }
  const at = { id: given.id, gardenId: request.params.garden }
  const reason = given.closedReason ?? null
  try {
    const work = async (tx: Tx) => {
      const known = await groundOf(tx, group.id, at.gardenId)
      if (!known) throw notFound()
      const rests = { groupId: group.id, gardenId: at.gardenId, from: given.fromDay }
      if (reason === null && (await closedOverGround(tx, rests)))
        return { closedReason: wordsHere().correcting.closedAsks }
      if (act === 'gross' && 'areaCm2' in given) {
        const { fromDay, areaCm2 } = given
        await saveGross(tx, author, { ...at, fromDay, grossAreaCm2: areaCm2 })
        return null
      }
      const sent = known.beds.some((bed) => bed.id === at.id) || known.ofBeds.some((one) => one.id === at.id)
      if (sent) return null
      const { closedReason: _why, ...what } = given
      const typed = { ...what, act: act === 'given-up' ? 'given up' : act } as GroundAct
      const rows = groundChange(known.beds, typed)
      if (rows.kind === 'refused') return { [rows.field]: words().refused[rows.code] }
      await saveGround(tx, author, at, rows)
      if (typed.act === 'parted') await layPartAlike(tx, author, { ...typed, id: at.id, of: typed.bedId })
      return null
    }
    return await (reason === null ? request.write(work) : request.write(work, reason))
  } catch (error) {
    const errors = refusals[constraintOf(error)]
    if (!errors) throw error
    // These forms ask for no area: what is said of it stands at their bed.
    const [said] = Object.values(errors)
    return said !== undefined && (act === 'joined' || act === 'given-up') ? { bedId: said } : errors
  }
}

/** Which field a constraint of the database speaks of, and what it says there. */
const refusals: Readonly<Record<string, Errors>> = {
  beds_name_is_taken: {
    get name() {
      return wordsHere().gardens.nameTaken
    },
  },
  beds_fit_their_garden: {
    get areaCm2() {
      return words().beyondGarden
    },
  },
  plantings_fit_their_bed: {
    get areaCm2() {
      return words().standsThere
    },
  },
  bed_areas_one_a_day: {
    get fromDay() {
      return words().refused.later
    },
  },
  garden_areas_one_a_day: {
    get fromDay() {
      return words().refused.later
    },
  },
}

async function show(
  request: GroundRequest,
  reply: FastifyReply,
  refused: (RefusedForm & { readonly act: GroundAsked }) | null,
) {
  const { group, role } = request.member
  const rows = await request.read((tx) => groundOf(tx, group.id, request.params.garden))
  if (!rows) throw notFound()
  const page = {
    ...groundPage(rows, { locale: group.locale, today: dayIn(group.timeZone, new Date()) }),
    acts: groundActs.map((act) => ({
      act,
      open: refused?.act === act,
      typed: refused?.act === act ? refused.typed : { id: newId() },
      errors: refused?.act === act ? refused.errors : {},
    })),
    mayChange: role === 'keeper',
  }
  const title = words().title(rows.garden.name)
  return reply.page('timeline/ground', page, { title, status: refused ? 422 : 200 })
}
