import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { ofTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { asShown } from '../lookups/unsaid.ts'
import { areaAsTyped } from '../quantities/as-typed.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type Correctable, correcting, stillUsed } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import {
  bedAreaCorrection,
  bedCorrection,
  blockForm,
  gardenAreaCorrection,
  gardenCorrection,
  methodForm,
  siteForm,
} from './gardens.form.ts'
import { blocksOfGarden } from './gardens.queries.ts'
import { bedAreas, beds, blocks, gardenAreas, gardens, methods, sites } from './gardens.table.ts'

const words = () => wordsHere().gardens
const f = () => words().fields
const ground = () => wordsHere().timeline.ground
const nameTaken = {
  get name() {
    return words().nameTaken
  },
}
const ledger = (_row: unknown, request: FastifyRequest) => `/g/${request.member.group.slug}/gardens`
const unitOf = (request: FastifyRequest) => request.member.group.areaUnit

/** What a higher chapter knows of ground and methods: whether figures of a closed season rest on them. */
interface RestsOn {
  closedOverGround(
    tx: Tx,
    of: { readonly groupId: string; readonly gardenId: string; readonly from: IsoDate | null },
  ): Promise<boolean>
  closedUnderMethod(tx: Tx, groupId: string, methodId: string): Promise<boolean>
}

const methodCorrection = methodForm.omit({ id: true })

type Site = typeof sites.$inferSelect
type Block = typeof blocks.$inferSelect
type Method = typeof methods.$inferSelect
type Garden = typeof gardens.$inferSelect
type Bed = typeof beds.$inferSelect

const site: Correctable<Site, object> = {
  ...ofTable(sites),
  kind: 'sites',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: f().siteName, value: row.name },
    { name: 'soil', label: f().soil, value: asShown(row.soil) },
    { name: 'exposure', label: f().exposure, value: asShown(row.exposure) },
  ],
  form: () => siteForm.omit({ id: true }),
  constraints: { sites_name_is_taken: nameTaken, ...stillUsed },
  back: ledger,
}

const block: Correctable<Block, object> = {
  ...ofTable(blocks),
  kind: 'blocks',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: f().blockName, value: row.name },
    { name: 'notes', label: f().blockNotes, value: asShown(row.notes) },
  ],
  form: () => blockForm.omit({ id: true, siteId: true }),
  constraints: stillUsed,
  back: ledger,
}

const method = ({ closedUnderMethod }: RestsOn): Correctable<Method, z.output<typeof methodCorrection>> => ({
  ...ofTable(methods),
  kind: 'methods',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: f().methodName, value: row.name },
    { name: 'workingRules', label: f().rules, value: row.workingRules, type: 'textarea' },
    {
      name: 'establishingSeasons',
      label: f().establishing,
      hint: f().establishingHint,
      value: row.establishingSeasons === null ? '' : String(row.establishingSeasons),
    },
  ],
  form: () => methodCorrection,
  restsOn: async (tx, row, given) =>
    given.establishingSeasons !== row.establishingSeasons && closedUnderMethod(tx, row.groupId, row.id),
  constraints: { methods_name_is_taken: nameTaken, ...stillUsed },
  back: ledger,
})

const garden = ({ closedOverGround }: RestsOn): Correctable<Garden, z.output<ReturnType<typeof gardenCorrection>>> => ({
  ...ofTable(gardens),
  kind: 'gardens',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row, request) => [
    { name: 'name', label: f().gardenName, value: row.name },
    {
      name: 'grossAreaCm2',
      label: f().gross,
      hint: f().grossHint,
      value: areaAsTyped(row.grossAreaCm2, unitOf(request)),
    },
    { name: 'exposure', label: f().exposure, value: asShown(row.exposure) },
    { name: 'soil', label: f().soil, value: asShown(row.soil) },
    { name: 'groundBefore', label: f().before, value: asShown(row.groundBefore) },
    { name: 'position', label: f().position, hint: f().positionHint, value: String(row.position + 1) },
  ],
  form: (request) => gardenCorrection(unitOf(request)),
  restsOn: async (tx, { groupId, id: gardenId, grossAreaCm2 }, given) =>
    given.grossAreaCm2 !== grossAreaCm2 && closedOverGround(tx, { groupId, gardenId, from: null }),
  constraints: {
    gardens_name_is_taken: nameTaken,
    beds_fit_their_garden: {
      get grossAreaCm2() {
        return words().bedsTooLarge
      },
    },
    ...stillUsed,
  },
  back: (row, request) => `${ledger(row, request)}/${row.id}`,
})

type BedRow = Bed & { readonly blockChoices: { value: string; label: string }[] }

const bed = ({ closedOverGround }: RestsOn): Correctable<BedRow, z.output<ReturnType<typeof bedCorrection>>> => ({
  ...ofTable(beds),
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, beds, groupId, id)
    if (!row) return undefined
    const there = await blocksOfGarden(tx, groupId, row.gardenId)
    return { ...row, blockChoices: there.map((one) => ({ value: one.id, label: one.name })) }
  },
  kind: 'beds',
  access: 'keeper',
  title: (row) => row.name,
  fields: (row, request) => [
    { name: 'name', label: f().oneBedName, value: row.name },
    { name: 'areaCm2', label: f().oneBedArea, hint: f().bedAreaHint, value: areaAsTyped(row.areaCm2, unitOf(request)) },
    {
      name: 'thereSince',
      label: ground().since,
      hint: ground().sinceHint,
      type: 'date',
      value: asShown(row.thereSince),
    },
    {
      name: 'blockId',
      label: f().block,
      value: asShown(row.blockId),
      options: [{ value: '', label: f().noBlock }, ...row.blockChoices],
    },
  ],
  form: (request) => bedCorrection(unitOf(request)),
  restsOn: async (tx, { groupId, gardenId, areaCm2, thereSince, blockId }, given) => {
    const isOther = given.areaCm2 !== areaCm2 || given.thereSince !== thereSince || given.blockId !== blockId
    return isOther && closedOverGround(tx, { groupId, gardenId, from: earlier(given.thereSince, thereSince) })
  },
  constraints: {
    beds_name_is_taken: nameTaken,
    beds_fit_their_garden: {
      get areaCm2() {
        return words().bedsTooLarge
      },
    },
    plantings_fit_their_bed: {
      get areaCm2() {
        return words().bedTooSmall
      },
    },
    beds_block: {
      get blockId() {
        return wordsHere().fields.notChosen
      },
    },
    ...stillUsed,
  },
  back: (row, request) => `${ledger(row, request)}/${row.gardenId}`,
})

/** The beginning, null, is earlier than each day. */
const earlier = (one: IsoDate | null, other: IsoDate | null): IsoDate | null =>
  one === null || other === null ? null : one < other ? one : other

type BedArea = typeof bedAreas.$inferSelect & { readonly bed: string; readonly gardenId: string }
type GardenArea = typeof gardenAreas.$inferSelect & { readonly garden: string }

const bedArea = ({
  closedOverGround,
}: RestsOn): Correctable<BedArea, z.output<ReturnType<typeof bedAreaCorrection>>> => ({
  ...ofTable(bedAreas),
  kind: 'bed-areas',
  table: 'bed_areas',
  access: 'keeper',
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, bedAreas, groupId, id)
    const bed = row && (await rowOf(tx, beds, groupId, row.bedId))
    return row && bed && { ...row, bed: bed.name, gardenId: bed.gardenId }
  },
  title: (row) => ground().lineOf(row.bed, row.fromDay),
  fields: (row, request) => [
    { name: 'fromDay', label: ground().fields.fromDay, value: row.fromDay, type: 'date' },
    {
      name: 'areaCm2',
      label: ground().areaOrGone,
      hint: ground().areaOrGoneHint,
      value: row.areaCm2 === 0 ? '' : areaAsTyped(row.areaCm2, unitOf(request)),
    },
  ],
  form: (request) => bedAreaCorrection(unitOf(request)),
  restsOn: async (tx, { groupId, gardenId, areaCm2, fromDay }, given) => {
    const isOther = given.areaCm2 !== areaCm2 || given.fromDay !== fromDay
    return isOther && closedOverGround(tx, { groupId, gardenId, from: earlier(given.fromDay, fromDay) })
  },
  constraints: {
    beds_fit_their_garden: {
      get areaCm2() {
        return ground().beyondGarden
      },
    },
    plantings_fit_their_bed: {
      get areaCm2() {
        return ground().standsThere
      },
    },
    bed_areas_one_a_day: {
      get fromDay() {
        return ground().refused.later
      },
    },
  },
  back: (row, request) => `${ledger(row, request)}/${row.gardenId}/ground`,
})

const gardenArea = ({
  closedOverGround,
}: RestsOn): Correctable<GardenArea, z.output<ReturnType<typeof gardenAreaCorrection>>> => ({
  ...ofTable(gardenAreas),
  kind: 'garden-areas',
  table: 'garden_areas',
  access: 'keeper',
  find: async (tx, groupId, id) => {
    const row = await rowOf(tx, gardenAreas, groupId, id)
    const of = row && (await rowOf(tx, gardens, groupId, row.gardenId))
    return row && of && { ...row, garden: of.name }
  },
  title: (row) => ground().lineOf(row.garden, row.fromDay),
  fields: (row, request) => [
    { name: 'fromDay', label: ground().fields.fromDay, value: row.fromDay, type: 'date' },
    { name: 'grossAreaCm2', label: f().gross, value: areaAsTyped(row.grossAreaCm2, unitOf(request)) },
  ],
  form: (request) => gardenAreaCorrection(unitOf(request)),
  restsOn: async (tx, { groupId, gardenId, grossAreaCm2, fromDay }, given) => {
    const isOther = given.grossAreaCm2 !== grossAreaCm2 || given.fromDay !== fromDay
    return isOther && closedOverGround(tx, { groupId, gardenId, from: earlier(given.fromDay, fromDay) })
  },
  constraints: {
    beds_fit_their_garden: {
      get grossAreaCm2() {
        return words().bedsTooLarge
      },
    },
    garden_areas_one_a_day: {
      get fromDay() {
        return ground().refused.later
      },
    },
  },
  back: (row, request) => `${ledger(row, request)}/${row.gardenId}/ground`,
})

export function gardenCorrections(app: FastifyInstance, rests: RestsOn): void {
  correcting(app, site)
  correcting(app, block)
  correcting(app, method(rests))
  correcting(app, garden(rests))
  correcting(app, bed(rests))
  correcting(app, bedArea(rests))
  correcting(app, gardenArea(rests))
}
