import type { Answer, Client } from './app.ts'

export const parts = ['seasons', 'crops', 'why', 'work', 'losses', 'otherwise', 'doubts', 'layout']

/** Compare and each of its parts under the same choices, their pages one after another. */
export async function wholeCompare(client: Client, address: string): Promise<Answer> {
  const [path = '', query] = address.split('?')
  const first = await client.get(address)
  const texts = [first.text]
  for (const part of parts) {
    const answer = await client.get(`${path}/${part}${query === undefined ? '' : `?${query}`}`)
    if (answer.status !== 200) throw new Error(`${path}/${part} answers ${answer.status}`)
    texts.push(answer.text)
  }
  return { ...first, text: texts.join('\n') }
}
