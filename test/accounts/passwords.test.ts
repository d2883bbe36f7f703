import fc from 'fast-check'
import { expect, it } from 'vitest'
import { isCommon } from '../../src/accounts/common-passwords.ts'
import { passwordRefused } from '../../src/accounts/password-refused.ts'

const ada = { name: 'Ada Rook', email: 'ada.rook@quernhill.example' }
const refused = (password: string) => passwordRefused(password, ada)

it.each([
  ...['password123', 'Password2026!', 'P@ssw0rd1234', 'passwordpassword', 'Passwort12345', '!!Welcome1!!'],
  ...['1234567890', '0987654321', 'qwertyuiop', 'qwertzuiop1', '1q2w3e4r5t', 'asdfghjkl123', 'abcdefghijkl'],
  ...['aaaaaaaaaaaa', '1212121212', 'iloveyou12345', 'sunshine2024', 'letmein12345', 'Evenground1', 'mein garten 1'],
  ...['adarook2026', 'Rook123456789', 'Ada.Rook.1990', 'quernhill1234', 'ada.rook@quernhill.example'],
])('%s is among what is tried first', (password) => {
  expect(refused(password)).toBe('common')
})

it.each([
  ...[
    'long enough to keep',
    'seven herons over the weir',
    'xq7-Lm2v-Tz9w',
    'Vier Reiher stehen am Wehr',
    '58203917462',
  ],
  'the password of the bean seed tin',
])('%s is taken', (password) => {
  expect(refused(password)).toBeNull()
})

it('ten letters are enough and nine are not, however a letter is stored', () => {
  expect([refused('xq7-Lm2vT'), refused('xq7-Lm2vTz')]).toEqual(['short', null])
  expect(refused('🫘🥬🌾🥕🧅🧄🌽🥔🍅')).toBe('short')
})

it('digits and marks around a listed word never make it a good one', () => {
  const around = fc.string({ unit: fc.constantFrom(...'0123456789!?.-_ '), maxLength: 12 })
  fc.assert(
    fc.property(around, fc.constantFrom('dragon', 'Sommer', 'FOOTBALL', 'geheim'), around, (before, word, behind) =>
      isCommon(before + word + behind, []),
    ),
  )
})

it('twelve letters drawn at random are as good as never refused', () => {
  const drawn = fc.string({ unit: fc.constantFrom(...'abcdefghijklmnopqrstuvwxyz'), minLength: 12, maxLength: 12 })
  const sample = fc.sample(drawn, { numRuns: 2000, seed: 7 }).filter((password) => new Set(password).size >= 5)
  expect(sample.filter((password) => isCommon(password, [])).length).toBe(0)
})

it('a very long one is looked at as quickly', () => {
  expect(isCommon('a1b2c3d4e5'.repeat(100), [])).toBe(false)
  expect(isCommon('password'.repeat(125), [])).toBe(false)
})
