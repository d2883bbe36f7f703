import { execFileSync } from 'node:child_process'
import { gunzipSync, gzipSync } from 'node:zlib'
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { asGzip, asPlain, bytesOfPacked, packedOnce, packedToKeep } from '../../src/web/gzip.ts'

const packing = [packedOnce, packedToKeep]

/** What stands between the pieces is a letter of its own range, which no other text of a case has. */
const letters = fc.string({ unit: fc.constantFrom('a', 'b', '<', 'ü', '€', '🌱'), maxLength: 400 })
const cases = fc.record({
  pieces: fc.array(letters, { minLength: 1, maxLength: 6 }),
  places: fc.array(fc.nat({ max: 2 }), { minLength: 5, maxLength: 5 }),
  sent: fc.tuple(
    ...[1, 9, 200].map((length) => fc.string({ unit: 'grapheme-ascii', minLength: length, maxLength: length })),
  ),
})

it('a text in pieces is a gzip file of the whole, with whatever stands between them', async () => {
  await fc.assert(
    fc.asyncProperty(cases, async ({ pieces, places, sent }) => {
      const marks = ['X', 'Y'.repeat(9), 'Z'.repeat(200)]
      const joined = (between: readonly string[]) =>
        pieces.map((piece, i) => (i === 0 ? piece : between[places[i - 1] ?? 0] + piece)).join('')
      for (const pack of packing) {
        const packed = await pack(joined(marks), marks)
        for (const between of [marks, sent]) {
          // It throws where the sum or the length at the end is not that of what it found.
          expect(gunzipSync(asGzip(packed, between)).toString()).toBe(joined(between))
          expect((await asPlain(packed, between)).toString()).toBe(joined(between))
        }
      }
    }),
    { numRuns: 60 },
  )
})

it('a wrong sum is seen, so that the one before is right', async () => {
  const bytes = asGzip(await packedToKeep('green TOKEN green', ['TOKEN']), ['token'])
  expect(gunzipSync(bytes).toString()).toBe('green token green')
  for (const fromEnd of [8, 4]) {
    const wrong = Buffer.from(bytes)
    wrong[wrong.length - fromEnd] = (wrong[wrong.length - fromEnd] ?? 0) ^ 1
    expect(() => gunzipSync(wrong)).toThrow(/incorrect (data|length) check/)
  }
})

it('the program gzip takes it, over more than deflate looks back', async () => {
  const text = `${'<td>carrot</td>'.repeat(5000)}TOKEN<td>carrot</td>TOKEN${'<td>0</td>'.repeat(5000)}TOKEN`
  const input = asGzip(await packedToKeep(text, ['TOKEN']), ['other'])
  execFileSync('gzip', ['-t'], { input })
  const read = execFileSync('gzip', ['-dc'], { input, maxBuffer: 2 ** 20 }).toString()
  expect(read).toBe(text.replaceAll('TOKEN', 'other'))
})

it('a page of thousands of forms is taken back as it was, and each of them looks back at the one before', async () => {
  const form = (row: number) => `<form><input value="TOKEN"><button>Remove row ${row}</button></form>`
  const rows = (among: (row: number) => string) => Array.from({ length: 2000 }, (_, row) => among(row) + form(row))
  const tall = rows((row) => (row % 500 === 0 ? '<td>€ 9</td>'.repeat(3000) : '')).join('')
  for (const pack of packing) {
    const bytes = asGzip(await pack(tall, ['TOKEN']), ['other'])
    expect(gunzipSync(bytes).toString()).toBe(tall.replaceAll('TOKEN', 'other'))
  }
  const alike = rows(() => '').join('')
  expect(asGzip(await packedOnce(alike, ['TOKEN']), ['other']).length).toBeLessThan(alike.length / 2)
})

it('nothing but the secret itself differs by the secret, however like it is to what stands beside it', async () => {
  const guess = 'name="token" value="k3Jx-90aQ_Lm42'
  const [like, unlike] = ['k3Jx-90aQ_Lm42tz', 'Zw81+ppGh=Yv70qq']
  const page = (secret: string) => `<p>${guess}</p><input name="token" value="${secret}"><p>${guess}</p>${secret}`
  // Compressed as a whole, the one that was guessed makes the shorter answer.
  expect(gzipSync(page(like)).length).toBeLessThan(gzipSync(page(unlike)).length)
  const [one, other] = await Promise.all(
    [like, unlike].map(async (secret) => {
      const bytes = asGzip(await packedOnce(page(secret), [secret]), [secret]).subarray(0, -8)
      expect(bytes.toString('latin1').split(secret)).toHaveLength(3)
      return bytes.toString('latin1').replaceAll(secret, 'secret')
    }),
  )
  expect(one).toBe(other)
})

it('what is kept is what is compressed, and a text of another length is refused', async () => {
  const packed = await packedToKeep(`${'green '.repeat(20_000)}TOKEN`, ['TOKEN'])
  expect(bytesOfPacked(packed)).toBeLessThan(2000)
  expect(gunzipSync(asGzip(packed, ['token'])).length).toBe(120_005)
  expect(() => asGzip(packed, ['tokens'])).toThrow('6 bytes in place of 5')
  const long = 'a'.repeat(65_536)
  expect(() => asGzip({ pieces: [], between: [], lengths: [long.length] }, [long])).toThrow('65536 bytes')
})
