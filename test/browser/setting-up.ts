import type { Page } from 'playwright-core'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { typeIn } from './keyboard.ts'

interface Beginning {
  readonly base: string
  readonly who: { readonly email: string; readonly password: string }
  /** At most four; all are sown ninety days ago. */
  readonly crops: readonly string[]
}

/** A new account with a group of two gardens and a season that runs today; the name of the group in addresses. */
export async function twoGardens(page: Page, { base, who, crops }: Beginning): Promise<string> {
  const today = dayIn('Pacific/Auckland', new Date())
  await page.goto(`${base}/sign-up`)
  await typeIn(page, '/sign-up', { name: 'Ada Rook', ...who })
  await typeIn(page, '/groups', { name: 'Quern Hill Growers', country: 'New Zealand' })
  await typeIn(page, '/setting-up/gardens', {
    ...{ 'rows[0][name]': 'Lower Terrace', 'rows[0][method]': 'Dug every spring' },
    ...{ 'rows[0][grossAreaCm2]': '70', 'rows[0][beds]': '6 of 8 m2' },
    ...{ 'rows[1][name]': 'Long Bank', 'rows[1][method]': 'Compost mulch, never dug' },
    ...{ 'rows[1][grossAreaCm2]': '70', 'rows[1][beds]': '6 of 8 m2', ground: 'one' },
  })
  const rows = crops.flatMap((crop, i) => [
    [`rows[${i}][crop]`, crop],
    [`rows[${i}][cultivar]`, 'Kestrel'],
    [`rows[${i}][sownOn]`, addDays(today, -90)],
  ])
  await typeIn(page, '/setting-up/season', {
    ...{ startsOn: addDays(today, -120), endsOn: addDays(today, 180), ...Object.fromEntries(rows) },
  })
  return new URL(page.url()).pathname.split('/')[2] ?? ''
}
