import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { bytesOfPacked, packedToKeep } from '../../src/web/gzip.ts'

setFlagsFromString('--expose-gc')
const collect: unknown = runInNewContext('gc')

/** Bytes outside of the heap that somebody holds. */
function bytesHeld(): number {
  if (typeof collect !== 'function') throw new Error('The engine collects nothing.')
  for (let i = 0; i < 3; i++) collect()
  return process.memoryUsage().arrayBuffers
}

/** A page with a token in each of its forms and ids of their own in some. */
const page = (ids: readonly string[]) =>
  ids.map((id) => `<form>${ids[0]} ${`row ${Math.random()} `.repeat(400)} ${id}</form>`).join('\n')

it('what is kept of pages is what is counted, and nothing of their texts', async () => {
  const before = bytesHeld()
  const kept: Awaited<ReturnType<typeof packedToKeep>>[] = []
  let letters = 0
  for (let i = 0; i < 100; i++) {
    const ids = Array.from({ length: 12 }, () => newId())
    letters += page(ids).length
    kept.push(await packedToKeep(page(ids), ids))
  }
  const held = bytesHeld() - before
  const counted = kept.reduce((sum, one) => sum + bytesOfPacked(one), 0)
  expect(letters).toBeGreaterThan(10_000_000)
  expect(counted).toBeLessThan(letters / 4)
  expect(held).toBeLessThan(counted)
})
