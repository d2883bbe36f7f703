import type { FastifyInstance, FastifyRequest } from 'fastify'
import { amend, ofTable } from '../db/amend.ts'
import { asShown } from '../lookups/unsaid.ts'
import { weightAsTyped } from '../quantities/as-typed.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type Correctable, choicesOf, correcting, stillUsed } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { heapCorrection } from './heaps.form.ts'
import { inputCorrection, inputKinds, measureCorrection } from './inputs.form.ts'
import { inputMeasures, inputs, stocks } from './inputs.table.ts'
import { keepLives } from './lives.queries.ts'
import { type ManureState, manureStateOf, manureStates } from './manure-interval.ts'
import { isSpreadInClosed } from './spread-in-closed.queries.ts'
import { todayHere } from './writing.routes.ts'

const words = () => wordsHere().inputs
const f = () => words().fields
const nameTaken = {
  get name() {
    return wordsHere().gardens.nameTaken
  },
}
const back = (_row: unknown, request: FastifyRequest) => `/g/${request.member.group.slug}/inputs`
const orBlank = (value: number | null, per = 1) => (value === null ? '' : String(value / per))

type Input = typeof inputs.$inferSelect

interface InputGiven {
  readonly kind: string
  readonly ownMade: boolean
  readonly rawManure: ManureState | null
  readonly usefulLifeSeasons: number
  readonly lifeSince?: IsoDate | null | undefined
}

const input: Correctable<Input, InputGiven> = {
  ...ofTable(inputs),
  kind: 'inputs',
  access: 'recorder',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: f().name, value: row.name },
    {
      name: 'kind',
      label: f().kind,
      value: row.kind,
      options: inputKinds.map((kind) => ({ value: kind, label: words().kinds[kind] })),
    },
    { name: 'unit', label: f().unit, hint: f().unitCorrected, value: row.unit },
    { name: 'ownMade', label: f().ownMade, value: row.ownMade ? 'own' : 'bought', options: madeChoices() },
    { name: 'usefulLifeSeasons', label: f().life, value: String(row.usefulLifeSeasons) },
    { name: 'lifeSince', label: f().lifeSince, hint: f().lifeSinceHint, type: 'date', value: '' },
    {
      name: 'rawManure',
      label: f().rawManure,
      hint: f().rawManureHint,
      value: manureStateOf(row.rawManure),
      options: choicesOf(words().rawStates),
    },
    { name: 'moisture', label: f().moisture, value: orBlank(row.moisturePermille, 10) },
    { name: 'densityKgPerM3', label: f().density, hint: f().densityHint, value: orBlank(row.densityKgPerM3) },
    { name: 'basis', label: f().basis, value: 'element', options: choicesOf(words().bases) },
    { name: 'nitrogen', label: f().nitrogen, value: orBlank(row.nitrogenMgPerKg, 10_000) },
    { name: 'phosphorus', label: f().phosphorus, value: orBlank(row.phosphorusMgPerKg, 10_000) },
    { name: 'potassium', label: f().potassium, value: orBlank(row.potassiumMgPerKg, 10_000) },
    { name: 'source', label: f().source, value: asShown(row.source) },
  ],
  form: () => inputCorrection,
  restsOn: async (tx, row, { kind, ownMade, rawManure }) => {
    const isRaw = manureStates[rawManure ?? 'no']
    const isOther = kind !== row.kind || ownMade !== (row.ownMade === 1) || isRaw !== row.rawManure
    return isOther && (await isSpreadInClosed(tx, row.groupId, { inputId: row.id }))
  },
  save: async (tx, seen, { ownMade, rawManure, lifeSince = null, ...given }, row) => {
    const changes = { ...given, ownMade: ownMade ? 1 : 0, rawManure: manureStates[rawManure ?? 'no'] }
    const isWritten = await amend(tx, inputs, seen, changes)
    const { groupId, id: inputId } = seen
    if (isWritten && given.usefulLifeSeasons !== row.usefulLifeSeasons)
      await keepLives(tx, { groupId, inputId, before: row.usefulLifeSeasons, since: lifeSince })
    return isWritten
  },
  constraints: { inputs_name_is_taken: nameTaken, ...stillUsed },
  back,
}

const madeChoices = () => [
  { value: 'bought', label: words().bought },
  { value: 'own', label: words().ownMade },
]

const measure: Correctable<typeof inputMeasures.$inferSelect, object> = {
  ...ofTable(inputMeasures),
  kind: 'measures',
  access: 'recorder',
  title: (row) => row.name,
  fields: (row, request) => [
    { name: 'name', label: f().measureName, value: row.name },
    { name: 'litres', label: f().litres, value: orBlank(row.volumeMl, 1000) },
    {
      name: 'weight',
      label: f().weight,
      value: row.massG === null ? '' : weightAsTyped(row.massG, request.member.group.weightUnit),
    },
  ],
  form: (request) => measureCorrection(request.member.group.weightUnit),
  constraints: { measures_name_is_taken: nameTaken },
  back,
}

const heap: Correctable<typeof stocks.$inferSelect, { readyOn: IsoDate | null; startedOn: IsoDate }> = {
  ...ofTable(stocks),
  kind: 'stocks',
  access: 'recorder',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: wordsHere().heaps.fields.name, value: row.name },
    { name: 'startedOn', label: wordsHere().heaps.fields.startedOn, type: 'date', value: row.startedOn },
    { name: 'readyOn', label: wordsHere().heaps.fields.readyOn, type: 'date', value: asShown(row.readyOn) },
  ],
  form: () => heapCorrection,
  refuse: async (_tx, _row, given, request) =>
    given && (given.readyOn ?? given.startedOn) > todayHere(request) ? { readyOn: words().dayAhead } : undefined,
  back,
}

export function inputCorrections(app: FastifyInstance): void {
  correcting(app, input)
  correcting(app, measure)
  correcting(app, heap)
}
