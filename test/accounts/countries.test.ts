import { expect, it } from 'vitest'
import { countries, countryOf, localeOf, unitsOf } from '../../src/accounts/countries.ts'

it('each country has a currency, time zones and a way of writing that this runtime knows', () => {
  const currencies = new Set(Intl.supportedValuesOf('currency'))
  expect(countries.length).toBe(246)
  expect(new Set(countries.map((one) => one.code)).size).toBe(246)
  for (const { code, currency, timeZones } of countries) {
    expect([code, currencies.has(currency)]).toEqual([code, true])
    expect([code, timeZones.length > 0]).toEqual([code, true])
    for (const zone of timeZones) expect(new Intl.DateTimeFormat('en', { timeZone: zone }).format(0)).toBeTruthy()
    expect([code, Intl.NumberFormat.supportedLocalesOf(localeOf(code)).length]).toEqual([code, 1])
  }
})

it('a few are as ISO 4217 and the tz database have them', () => {
  expect(countryOf('NZ')).toEqual({ code: 'NZ', currency: 'NZD', timeZones: ['Pacific/Auckland'] })
  expect(countryOf('AT')).toEqual({ code: 'AT', currency: 'EUR', timeZones: ['Europe/Vienna'] })
  expect(countryOf('HR')?.currency).toBe('EUR')
  expect(countryOf('CH')?.currency).toBe('CHF')
  expect(countryOf('US')?.timeZones.length).toBeGreaterThan(5)
  expect(countryOf('XX')).toBeUndefined()
  expect([localeOf('NZ'), localeOf('AT'), localeOf('BR')]).toEqual(['en-NZ', 'de-AT', 'pt-BR'])
  expect([unitsOf('US').weightUnit, unitsOf('GB').weightUnit]).toEqual(['lb', 'kg'])
})
