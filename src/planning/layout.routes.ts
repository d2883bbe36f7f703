import { randomInt } from 'node:crypto'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import { newId } from '../db/new-id.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { bedsOf, blocksOf, gardensOf, methodsOf } from '../gardens/gardens.queries.ts'
import { asShown, sent } from '../lookups/unsaid.ts'
import { type GardenPart, gardenParts } from '../seasons/garden-parts.ts'
import { assignmentsOf, cropsOf, plantingsOf, savePlantings, seasonsOf } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { queryOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { type AssignmentRow, isDrawn, laidBy, ways } from './laying.ts'
import { blocksForm, type LayoutWanted, partingForm, stripForm, wantedForm } from './layout.form.ts'
import { layoutLines, layoutSaidOf, tableOf } from './layout.page.ts'
import { partBed, saveBlocks, saveLayout } from './layout.queries.ts'

const words = () => wordsHere().layout
interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>
type Refused = RefusedForm & { form: string }

const authorOf = ({ member }: FastifyRequest) => ({ groupId: member.group.id, createdBy: member.personId })
const pathOf = (request: SeasonRequest) => `/g/${request.member.group.slug}/seasons/${request.params.season}/layout`

/**
 * What a season's layout can show, and ways to make one: draws that can be repeated, turns, split beds, a control
 * strip.
 */
export function layoutRoutes(app: FastifyInstance): void {
  const address = '/g/:group/seasons/:season/layout'
  app.get<SeasonRoute>(address, { config: { access: 'reader' } }, async (request, reply) => {
    const asked = queryOf(request)
    if (asked.way === undefined) return show(request, reply, { refused: null, wanted: null })
    const form = readForm(wantedForm, asked)
    if (form.kind === 'refused') return show(request, reply, { refused: { form: 'layout', ...form }, wanted: null })
    if (isDrawn(form.value.way) && form.value.seed === null) {
      return reply.redirect(`${pathOf(request)}?${withSeed(asked, String(randomInt(100_000, 1_000_000)))}`, 303)
    }
    return show(request, reply, { refused: null, wanted: form.value })
  })

  app.post<SeasonRoute>(address, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(wantedForm, request.body)
    if (form.kind === 'refused') return show(request, reply, { refused: { form: 'layout', ...form }, wanted: null })
    const rows = await rowsOf(request)
    const laid = laidBy(rows, form.value)
    const closed = rows.seasons.some((one) => one.id === rows.seasonId && one.closedAt !== null)
    const wrong = closed ? wordsHere().seasons.closedLayout : refusalOf(form.value, laid, rows.beds)
    if (wrong) {
      const refused = { form: 'layout', ...refuseForm(request.body, { way: wrong }) }
      return show(request, reply, { refused, wanted: null })
    }
    await request.write((tx) => saveLayout(tx, authorOf(request), request.params.season, laid))
    return reply.backTo(pathOf(request), words().kept)
  })

  app.post<SeasonRoute>(`${address}/blocks`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(blocksForm, request.body)
    await rowsOf(request)
    if (form.kind === 'refused') throw notFound()
    const moved = await request.write((tx) => saveBlocks(tx, authorOf(request), form.value))
    return reply.backTo(`${pathOf(request)}#make`, words().blocksKept(moved))
  })

  app.post<SeasonRoute>(`${address}/split-beds`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(partingForm(request.member.group.areaUnit), request.body)
    if (form.kind === 'refused') return show(request, reply, { refused: { form: 'split-beds', ...form }, wanted: null })
    await rowsOf(request)
    const errors = await parted(request, form.value)
    if (errors) {
      return show(request, reply, {
        refused: { form: 'split-beds', ...refuseForm(request.body, errors) },
        wanted: null,
      })
    }
    return reply.backTo(pathOf(request), words().parted)
  })

  app.post<SeasonRoute>(`${address}/control-strips`, { config: { access: 'keeper' } }, async (request, reply) => {
    const form = readForm(stripForm(request.member.group.areaUnit), request.body)
    const refused = (errors: Record<string, string>) =>
      show(request, reply, { refused: { form: 'control-strips', ...refuseForm(request.body, errors) }, wanted: null })
    if (form.kind === 'refused') return refused(form.errors)
    const errors = await stripSown(request, form.value)
    return errors ? refused(errors) : reply.backTo(pathOf(request), words().stripSaved)
  })
}

/** The fields that are left blank are left out: an address holds what was said. */
function withSeed(asked: Record<string, unknown>, seed: string): string {
  const kept = Object.entries(asked).filter(([name, value]) => name !== 'seed' && value !== '')
  const address = new URLSearchParams({ seed })
  for (const [name, value] of kept) for (const one of [value].flat()) address.append(name, String(one))
  return address.toString()
}

function refusalOf(wanted: LayoutWanted, laid: readonly AssignmentRow[], beds: readonly { blockId: string | null }[]) {
  if (wanted.way === 'draw blocks' && beds.some((bed) => bed.blockId === null)) return words().noBlocks
  return laid.length === 0 ? words().nothingLaid : undefined
}

async function parted(request: SeasonRequest, given: { id: string; bedId: string; name: string; areaCm2: number }) {
  const fromDay = (await rowsOf(request)).season.startsOn
  try {
    const found = await request.write((tx) => partBed(tx, authorOf(request), { ...given, fromDay }))
    if (found === 'parted') return null
    if (found === 'no bed') return { bedId: wordsHere().fields.notChosen }
    if (found.code === 'too large') return { areaCm2: words().partTooLarge }
    return { bedId: wordsHere().timeline.ground.refused[found.code] }
  } catch (error) {
    if (constraintOf(error) === 'beds_name_is_taken') return { name: wordsHere().gardens.nameTaken }
    if (constraintOf(error) === 'plantings_fit_their_bed') return { areaCm2: words().partPlanted }
    throw error
  }
}

type Strip = ReturnType<typeof stripForm>['_output']

async function stripSown(request: SeasonRequest, { beds, ...given }: Strip): Promise<Record<string, string> | null> {
  const rows = await rowsOf(request)
  const isThere = (part: GardenPart) => part.beds.some((bed) => beds.includes(bed.value))
  if (!partsOf(rows).every(isThere)) return { beds: words().everyGarden }
  const planting = { ...given, plants: null, plantedOn: null, purpose: 'harvest', spacing: null, interplanted: 0 }
  const setName = words().stripName(given.cultivar)
  const wanted = { ...planting, bedIds: beds, seasonId: request.params.season, setName }
  try {
    await request.write((tx) => savePlantings(tx, authorOf(request), wanted))
    return null
  } catch (error) {
    if (constraintOf(error) === 'plantings_fit_their_bed') return { areaCm2: wordsHere().seasons.bedFull }
    if (constraintOf(error) === 'cultivars_crop') return { cropId: wordsHere().fields.notChosen }
    throw error
  }
}

async function rowsOf(request: SeasonRequest) {
  const { id } = request.member.group
  const rows = await request.read(async (tx) => ({
    seasonId: request.params.season,
    seasons: await seasonsOf(tx, id),
    methods: await methodsOf(tx, id),
    gardens: await gardensOf(tx, id),
    beds: await bedsOf(tx, id),
    blocks: await blocksOf(tx, id),
    assignments: await assignmentsOf(tx, id),
    crops: await cropsOf(tx, id),
    planted: (await plantingsOf(tx, id)).filter((one) => one.seasonId === request.params.season).length,
  }))
  const season = rows.seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  return { ...rows, season, beds: lyingOver(rows.beds, season) }
}

interface Asked {
  readonly refused: Refused | null
  readonly wanted: LayoutWanted | null
}

async function show(request: SeasonRequest, reply: FastifyReply, { refused, wanted }: Asked) {
  const { group, role } = request.member
  const rows = await rowsOf(request)
  const season = rows.seasons.find((one) => one.id === request.params.season)
  if (!season) throw notFound()
  const stands = rows.assignments.filter((one) => one.seasonId === season.id)
  const laid = wanted ? laidBy(rows, wanted) : []
  const wrong = wanted ? refusalOf(wanted, laid, rows.beds) : undefined
  const all = {
    seed: 'any',
    places: [],
    methods: rows.methods.map((one) => one.id),
    to: new Map<string, string>(),
    since: new Map<string, number>(),
  }
  const before = rows.seasons[rows.seasons.findIndex((one) => one.id === season.id) - 1]
  const query = queryOf(request)
  const methodIds = wanted?.methods.length ? wanted.methods : all.methods
  const of = (form: string) => {
    const own = refused?.form === form ? refused : null
    const messages = own ? Object.values(own.errors) : []
    return { typed: own?.typed ?? { id: newId() }, errors: own?.errors ?? {}, open: own !== null, messages }
  }
  const page = {
    season: { id: season.id, name: season.name },
    before: before && rows.assignments.some((one) => one.seasonId === before.id) ? before.name : null,
    uniform: season.isUniformYear === 1,
    planted: rows.planted,
    stands: { said: layoutSaidOf(rows, stands, group.locale), lines: layoutLines(rows, stands) },
    choices: told.flatMap((way) => {
      const would = laidBy(rows, { ...all, way })
      return refusalOf({ ...all, way }, would, rows.beds)
        ? []
        : [{ way, said: layoutSaidOf(rows, would, group.locale) }]
    }),
    preview:
      wanted && !wrong
        ? {
            said: layoutSaidOf(rows, laid, group.locale),
            lines: layoutLines(rows, laid),
            hidden: hiddenOf(wanted),
            seed: isDrawn(wanted.way) ? wanted.seed : null,
          }
        : null,
    errors: refused?.form === 'layout' ? refused.errors : wrong ? { way: wrong } : {},
    typed: { way: query.way ?? 'by hand', seed: sent(query.seed) },
    wayChoices: ways.map((value) => ({ value, label: words().ways[value] })),
    methods: rows.methods.map(({ id, name }) => ({ id, name, ticked: methodIds.includes(id) })),
    table: tableOf(rows, {
      places: wanted?.places ?? [],
      to: wanted?.way === 'by hand' ? wanted.to : null,
      since: wanted?.since ?? new Map<string, number>(),
    }),
    blockNames: [...new Set(rows.blocks.map((one) => one.name))],
    ...groundChoices(rows, of('control-strips').typed),
    of,
    mayChange: role === 'keeper',
  }
  return reply.page('planning/layout', page, { title: words().title(season.name), status: refused ? 422 : 200 })
}

/** Ways whose outcome can be told without naming places. */
const told = ['draw gardens', 'draw beds', 'draw blocks', 'draw halves', 'turn gardens'] as const

/** What was looked at, as the form that keeps it sends it again. */
const hiddenOf = ({ way, seed, methods, places, to, since }: LayoutWanted): (readonly [string, string])[] => [
  ['way', way],
  ['seed', asShown(seed)],
  ...methods.map((id) => ['methods', id] as const),
  ...places.map((id) => ['places', id] as const),
  ...[...to].map(([place, method]) => [`to-${place}`, method] as const),
  ...[...since].map(([place, year]) => [`since-${place}`, String(year)] as const),
]

type Rows = Awaited<ReturnType<typeof rowsOf>>

const partsOf = (rows: Rows) =>
  gardenParts({ ...rows, laid: rows.assignments.filter((one) => one.seasonId === rows.seasonId) })

/** What the forms for the ground choose from: beds to split, and a bed for the strip in each garden. */
function groundChoices(rows: Rows, typed: Readonly<Record<string, unknown>>) {
  const bedsIn = (gardenId: string) => rows.beds.filter((one) => one.gardenId === gardenId)
  const chosen = (typed.beds ?? {}) as Readonly<Record<string, string>>
  return {
    splitChoices: rows.gardens.flatMap((garden) =>
      bedsIn(garden.id).map(({ id, name }) => ({ value: id, label: `${garden.name}, ${name}` })),
    ),
    stripBeds: partsOf(rows).map(({ key, name, beds }) => ({
      field: `beds[${key}]`,
      label: words().bedIn(name),
      value: chosen[key],
      beds,
    })),
    stripWays: Object.entries(wordsHere().seasons.ways).map(([value, label]) => ({ value, label })),
    cropChoices: rows.crops.map(({ id, name }) => ({ value: id, label: name })),
  }
}
