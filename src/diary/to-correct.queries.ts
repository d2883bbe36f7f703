import { rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { deliveriesOf } from '../inputs/deliveries.queries.ts'
import { loadsThen } from '../inputs/load.ts'
import { linked } from '../lookups/unsaid.ts'
import { harvests, labourEntries } from './diary.table.ts'
import { placesToMoveTo } from './moved.queries.ts'
import { sealedIn } from './sealed.queries.ts'
import { containersOf } from './week.queries.ts'

export type LabourRow = typeof labourEntries.$inferSelect & { readonly choices: Choices; readonly loads: Loads }
type Loads = { value: string; label: string }[]
/** `label` is set while the row is sealed: nothing on its page then tells the planting. */
export type HarvestRow = typeof harvests.$inferSelect & {
  readonly choices: Choices
  readonly label: string | null
  readonly boxes: Loads
}
type Choices = Awaited<ReturnType<typeof placesToMoveTo>>

async function withChoices<T extends typeof labourEntries | typeof harvests>(
  tx: Tx,
  table: T,
  groupId: string,
  id: string,
) {
  const row = await rowOf(tx, table, groupId, id)
  return row && { ...row, choices: await placesToMoveTo(tx, groupId, row.seasonId) }
}

export async function labourToCorrect(tx: Tx, groupId: string, id: string): Promise<LabourRow | undefined> {
  const row = (await withChoices(tx, labourEntries, groupId, id)) as Omit<LabourRow, 'loads'> | undefined
  if (!row) return undefined
  const loads = loadsThen(await deliveriesOf(tx, groupId), '9999-12-31')
  return { ...row, loads: loads.map((one) => ({ value: one.id, label: `${one.inputName}, ${one.deliveredOn}` })) }
}

export async function harvestToCorrect(tx: Tx, groupId: string, id: string): Promise<HarvestRow | undefined> {
  const row = (await withChoices(tx, harvests, groupId, id)) as Omit<HarvestRow, 'label' | 'boxes'> | undefined
  if (!row) return undefined
  const boxes = (await containersOf(tx, groupId)).map((one) => ({ value: one.id, label: one.name }))
  return { ...row, boxes, label: linked(await sealedIn(tx, groupId, row.isoWeek), row.plantingId) ?? null }
}
