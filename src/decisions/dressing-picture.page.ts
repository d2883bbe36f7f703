import { drawBarLedger } from '../drawing/bar-ledger.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import type { DressingRow } from './dressing-plan.ts'

const words = catalogue.dressing.picture

/**
 * The phosphorus of each layer in seasons of what the last harvests of its ground carried off: what goes on is meant to
 * feed one season. Null where it is known of no layer.
 */
export function dressingPicture(laid: readonly DressingRow[], locale: string) {
  if (laid.every((row) => row.seasonsOfPhosphorus === null)) return null
  const said = (value: number | null) =>
    value === null ? catalogue.deciding.unknown : formatNumber(value, locale, value < 10 ? 1 : 0)
  const rows = laid.map(({ method, seasonsOfPhosphorus: value }) => ({
    label: method.name,
    value,
    figure: said(value),
  }))
  return {
    id: 'dressing-feeds',
    title: words.title,
    how: '',
    drawing: drawBarLedger({ groups: [{ heading: '', rows }] }),
    // Three bars with their figures beside them need no table of their own.
    told: words.told(rows.map(({ label, figure }) => `${label} ${figure}`)),
  }
}
