import { and, eq, gt, isNotNull, or } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { cropPrices, crops } from '../seasons/seasons.table.ts'
import { deliveries } from './inputs.table.ts'

/** Every column of the record that holds money, as "table.column": a test asks for each new one. */
export const moneyColumns = [
  'crop_prices.price_minor_per_kg',
  'crops.price_minor_per_kg',
  'deliveries.delivery_price_minor',
  'deliveries.price_minor',
]

/**
 * Whether any amount of money is in the record, in what was removed too: it is in the smallest unit of the group's
 * currency, and would be another amount in another one.
 */
export async function moneyWritten(tx: Tx, groupId: string): Promise<boolean> {
  const priced = or(isNotNull(deliveries.priceMinor), gt(deliveries.deliveryPriceMinor, 0))
  const delivered = await tx
    .select({ id: deliveries.id })
    .from(deliveries)
    .where(and(eq(deliveries.groupId, groupId), priced))
    .limit(1)
  const sold = await tx
    .select({ id: crops.id })
    .from(crops)
    .where(and(eq(crops.groupId, groupId), isNotNull(crops.priceMinorPerKg)))
    .limit(1)
  const later = await tx
    .select({ id: cropPrices.id })
    .from(cropPrices)
    .where(and(eq(cropPrices.groupId, groupId), isNotNull(cropPrices.priceMinorPerKg)))
    .limit(1)
  return delivered.length + sold.length + later.length > 0
}
