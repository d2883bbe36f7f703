import { randomInt } from 'node:crypto'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { bedsOf, gardensOf, methodsOf } from '../gardens/gardens.queries.ts'
import { dayIn } from '../quantities/dates.ts'
import { questionOf, saveQuestion } from '../seasons/question.queries.ts'
import { assignmentsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { laidBy } from './laying.ts'
import { saveLayout } from './layout.queries.ts'
import { wayOfKind } from './proposal.ts'
import { writePlanForm } from './write-plan.form.ts'

const words = () => wordsHere().nextSeason
type Show = (request: FastifyRequest, reply: FastifyReply, refused: RefusedForm) => Promise<FastifyReply>

/** A plan goes into a season that has not begun: layout, draw and question in one step, and one undo. */
export function writePlanRoutes(app: FastifyInstance, show: Show): void {
  app.post('/g/:group/decide/next-season', { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(writePlanForm, request.body)
    if (form.kind === 'refused') return show(request, reply, form)
    const written = await request.write((tx) => writePlan(tx, request, form.value))
    if (written.kind === 'refused') return show(request, reply, refuseForm(request.body, written.errors))
    const { slug } = request.member.group
    return reply.backTo(`/g/${slug}/seasons/${form.value.seasonId}/layout`, words().written[written.question])
  })
}

type Given = z.infer<typeof writePlanForm>
type Written =
  | { readonly kind: 'refused'; readonly errors: Record<string, string> }
  | { readonly kind: 'written'; readonly question: 'asked' | 'left' }

async function writePlan(tx: Tx, request: FastifyRequest, given: Given): Promise<Written> {
  const { group, personId } = request.member
  const refused = (errors: Record<string, string>): Written => ({ kind: 'refused', errors })
  const [seasons, methods] = [await seasonsOf(tx, group.id), await methodsOf(tx, group.id)]
  const season = seasons.find((one) => one.id === given.seasonId)
  const nameOf = (id: string) => methods.find((one) => one.id === id)?.name
  const reference = nameOf(given.referenceId)
  const others = given.methods.flatMap((id) => nameOf(id) ?? [])
  if (!season) return refused({ seasonId: wordsHere().fields.notChosen })
  if (reference === undefined) return refused({ referenceId: wordsHere().fields.notChosen })
  if (others.length < given.methods.length) return refused({ methods: wordsHere().fields.notChosen })
  if (season.startsOn <= dayIn(group.timeZone, new Date())) return refused({ seasonId: words().begun })
  const planted = (await plantingsOf(tx, group.id)).some((one) => one.seasonId === season.id)
  if (planted) return refused({ seasonId: words().planted })
  const beds = lyingOver(await bedsOf(tx, group.id), season)
  const way = wayOfKind[given.kind]
  const meant = placesMeant(given, beds)
  if (way === 'draw blocks' && beds.some((bed) => bed.blockId === null && isAmong(meant, bed)))
    return refused({ kind: wordsHere().layout.noBlocks })
  const [gardens, assignments] = [await gardensOf(tx, group.id), await assignmentsOf(tx, group.id)]
  const wanted = { way, seed: String(randomInt(100_000, 1_000_000)), methods: [given.referenceId, ...given.methods] }
  const rows = { seasonId: season.id, seasons, methods, gardens, beds, assignments }
  const laid = laidBy(rows, { ...wanted, places: meant, to: new Map(), since: new Map() })
  if (laid.length === 0) return refused({ kind: wordsHere().layout.nothingLaid })
  const author = { groupId: group.id, createdBy: personId }
  await saveLayout(tx, author, season.id, laid)
  if (await questionOf(tx, group.id, season.id)) return { kind: 'written', question: 'left' }
  await saveQuestion(tx, author, season.id, {
    id: newId(),
    version: null,
    question: words().question(listOf(others, group.locale), reference),
    referenceMethodId: given.referenceId,
    primaryMeasure: 'matched yield',
    marginPercent: given.matters,
    seasonsToLookAt: given.seasons,
    sentenceIfSeen: words().ifSeen(others.length, listOf(others, group.locale), reference),
    sentenceIfNotSeen: words().ifNotSeen,
    terms: {
      weights: 'marketable',
      mix: 'pooled areas',
      outsideLosses: 'counted',
      crops: given.cropNames,
      pairs: given.methods.map((methodB) => ({ methodA: given.referenceId, methodB })),
    },
  })
  return { kind: 'written', question: 'asked' }
}

const listOf = (names: readonly string[], locale: string) =>
  new Intl.ListFormat(locale, { type: 'conjunction' }).format(names)

interface BedMeant {
  readonly id: string
  readonly gardenId: string
  readonly blockId: string | null
}

/** Gardens as they are chosen, or the beds of the blocks that are; none is all of them. */
function placesMeant({ kind, gardens, blocks }: Given, beds: readonly BedMeant[]): readonly string[] {
  if (kind !== 'blocks of beds' || blocks.length === 0) return gardens
  const inBlock = beds.filter((bed) => bed.blockId !== null && blocks.includes(bed.blockId))
  return inBlock.map((bed) => bed.id)
}

const isAmong = (meant: readonly string[], bed: BedMeant) =>
  meant.length === 0 || meant.includes(bed.id) || meant.includes(bed.gardenId)
