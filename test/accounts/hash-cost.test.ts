import { hash } from '@node-rs/argon2'
import { expect, it } from 'vitest'
import { isAffordable } from '../../src/accounts/hash-cost.ts'
import { argon } from '../../src/accounts/members.queries.ts'
import { isPassphrase } from '../../src/reports/links.queries.ts'

it('a hash of our own is checked, and one that would cost much more is not', async () => {
  const own = await hash('under the straw', argon)
  expect([isAffordable(own), await isPassphrase(own, 'under the straw')]).toEqual([true, true])
  const dear = [
    own.replace('m=19456', 'm=524288'),
    own.replace('t=2', 't=9'),
    own.replace('p=1', 'p=8'),
    own.slice(9),
    '',
  ]
  expect(dear.filter(isAffordable)).toEqual([])
  const threefold = await hash('under the straw', { ...argon, memoryCost: 70_000 })
  expect(await isPassphrase(threefold, 'under the straw')).toBe(false)
})
