import { expect } from 'vitest'
import type { Answer, Client } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import type { Trial } from '../support/trial.ts'
import { rowsIn, unpacked } from './unpacked.ts'

/** What a keeper does with a file of rows, in one trial. */
export function rowsOf(trial: () => Trial) {
  /** Sends a file and looks again until it is read; answers that page and its address. */
  const read = async (
    kind: string,
    text: string | Buffer,
    client: Client = trial().keeper,
  ): Promise<Answer & { at: string }> => {
    const sent = await client.upload(
      `${trial().base}/exchange/rows`,
      { kind },
      { name: 'rows.csv', bytes: Buffer.from(text) },
    )
    expect(sent.status).toBe(303)
    return { ...(await settled(sent.location, client)), at: sent.location }
  }

  const settled = async (address: string, client: Client = trial().keeper): Promise<Answer> => {
    for (;;) {
      const page = await client.get(address)
      if (!page.text.includes('http-equiv="refresh"')) return page
      await new Promise((done) => setTimeout(done, 20))
    }
  }

  const stored = async (address: string): Promise<string> => {
    await trial().keeper.post(`${address}/confirm`)
    return plain((await settled(address)).text.split('<main')[1] ?? '')
  }

  /** The rows of a table as the whole export shows them. */
  const table = async (name: string): Promise<Record<string, string>[]> => {
    const files = await unpacked(await trial().keeper.download(`${trial().base}/exchange/export.zip`))
    return rowsIn(files.get(`data/${name}.csv`))
  }

  return { read, settled, stored, table }
}

/** Line, field and reason of each cell that a page says is not right. */
export const wrongIn = (page: Answer) => {
  const body = page.text.split('<h2>Lines that are not right</h2>')[1]?.split('</table>')[0] ?? ''
  return [...body.matchAll(/<tr><th scope="row">([^<]*)<\/th><td>([^<]*)<\/td><td>([^<]*)/g)].map((found) =>
    found.slice(1, 4).map((cell) => plain(cell)),
  )
}
