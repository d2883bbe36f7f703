import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const at = (week: string) => `${trial.base}/weeks/2026-W${week}`
const send = (week: string, sheet: object) => trial.keeper.post(at(week), { id: newId(), to: 'save', ...sheet })
const sheet = async (week: string, query = '') => (await trial.keeper.get(`${at(week)}${query}`)).text
const ledger = async (week: string) => plain((await trial.keeper.get(`${at(week)}/ledger`)).text)
const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)
const potato = (garden: string) => plantingOf(trial, 'potato', garden)
const clear = (plantingId: string, clearedOn: string) =>
  trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, { plantingId, clearedOn })

describe('a crate from several plantings, in the cell of one', () => {
  it('is offered the others of its crop, none of them ticked', async () => {
    const cell = (await sheet('05')).split(`name="w[${carrot('Lower')}][with][]"`)
    expect(cell).toHaveLength(2)
    expect(cell[1]).toContain(`value="${carrot('Long')}"`)
    expect(plain(cell[1]?.split('</label>')[0] ?? '')).toContain('Long Bank, Bed 1')
    expect(cell[1]?.split('>')[0]).not.toContain('checked')
  })

  it('is one row, divided by area, and stands in both cells with their parts', async () => {
    const id = newId()
    const typed = {
      id,
      day: '2026-01-28',
      w: { [carrot('Lower')]: { good: '3 / 0.2 forked', with: [carrot('Long')] } },
    }
    for (let sent = 0; sent < 2; sent++) {
      const answer = await send('05', typed)
      expect(answer.status).toBe(303)
      if (sent === 0)
        expect(plain((await trial.keeper.get(answer.location)).text)).toContain('Saved: several gardens 3.2 kg.')
    }
    expect(rowOf((await trial.keeper.get(`${at('05')}/ledger`)).text, 'shared').slice(1, 4)).toEqual([
      ...['3.0 kg', '0.2 kg', 'forked'],
    ])
    const [, lower, bank] = rowOf(await sheet('05'), 'carrot, Kestrel')
    expect([lower, bank].every((one) => one?.startsWith('1.50 good, 0.10 not saved, correct of a crate'))).toBe(true)
  })

  it('answers the twin, and is refused where a share or a weight is not known', async () => {
    expect(await sheet('05')).not.toContain(`name="w[${carrot('Long')}][twin]"`)
    const byPlants = { good: '2', with: [potato('Long')], byPlants: 'yes' }
    const refused = await send('05', { day: '2026-01-28', w: { [potato('Lower')]: byPlants } })
    expect(refused.status).toBe(422)
    expect(plain(refused.text)).toContain('The number of plants of the potato is not written down')
    expect(refused.text.split(`name="w[${potato('Lower')}][with][]"`)[1]?.split('>')[0]).toContain('checked')
    const blank = await send('05', { w: { [potato('Lower')]: { good: '', with: [potato('Long')] } } })
    expect([blank.status, plain(blank.text).includes('Write down a weight')]).toEqual([422, true])
  })
})

describe('the state of what was weighed', () => {
  it('is the one that its crop counts, or the one that is chosen', async () => {
    expect(plain(await sheet('06', '?rows=all'))).toContain(
      'fresh from the bed, as it counts trimmed dried out of store',
    )
    const answer = await send('06', { day: '2026-02-03', w: { [potato('Long')]: { good: '0.9', state: 'trimmed' } } })
    expect(answer.status).toBe(303)
    expect(await ledger('06')).toContain('trimmed: shown, and not added to the yield')
  })
})

describe('weights that follow clearing', () => {
  it('a cleared planting is found by its name, and takes what was lifted before', async () => {
    expect((await clear(potato('Lower'), '2026-02-03')).status).toBe(303)
    expect(await sheet('08')).not.toContain(`name="w[${potato('Lower')}][good]"`)
    // As a device keeps it for the days without a signal, it holds what may still be typed.
    expect(await sheet('08', '?rows=all')).toContain(`name="w[${potato('Lower')}][good]"`)
    const found = await sheet('08', '?find=potato+lower')
    expect(found).toContain(`name="w[${potato('Lower')}][good]"`)
    expect(rowOf(found, 'potato, Heron')[1]).toContain('cleared 3 Feb')
    const late = await send('08', { day: '2026-02-18', w: { [potato('Lower')]: { good: '4.4' } } })
    expect([late.status, plain(late.text).includes('was cleared before that day')]).toEqual([422, true])
    const lifted = { good: '4.4', lifted: '3.2.' }
    expect((await send('08', { day: '2026-02-18', w: { [potato('Lower')]: lifted } })).status).toBe(303)
    expect(await ledger('08')).toContain('lifted on 3 February 2026')
  })

  it('what counts dried asks for its weight until it has one, and then no longer', async () => {
    const season = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
    const crop = `${trial.base}/correct/crops/${season('cropId').carrot}`
    const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(crop)).text)?.[1] ?? ''
    const given = { version, name: 'carrot', family: 'Apiaceae', touchesSoil: 'yes', source: '', weighedAs: 'dried' }
    expect((await trial.keeper.post(crop, given)).status).toBe(303)
    const [one, other] = [carrot('Lower'), carrot('Long')]
    for (const id of [one, other]) expect((await clear(id, '2026-02-03')).status).toBe(303)
    const isThere = async (id: string, week: string) => (await sheet(week)).includes(`name="w[${id}][good]"`)
    // Their crate was weighed fresh and counts no longer.
    expect([await isThere(one, '10'), await isThere(other, '16')]).toEqual([true, true])
    expect(plain(await sheet('16'))).toContain('dried, as it counts fresh from the bed')
    const dried = { [one]: { good: '1.1', lifted: '2026-02-03' }, [other]: { good: '1.3' } }
    expect((await send('16', { day: '2026-04-15', w: dried })).status).toBe(303)
    // Weighed lately, the row stays for what is still to come; later it is found by its name.
    expect([await isThere(one, '18'), await isThere(one, '21')]).toEqual([true, false])
    expect(await sheet('21', '?find=carrot')).toContain(`name="w[${one}][good]"`)
  })
})

describe('hours over several gardens, in the cell for all of them', () => {
  const over = async (week: string, task: string, more: object) => {
    expect((await send(week, { h: { all: { [task]: { time: '1:00', ...more } } } })).status).toBe(303)
    return ledger(week)
  }

  it('are over all of them by area, in equal parts, or over those that are ticked', async () => {
    const { lower = '' } = trial.gardens
    expect(await over('11', 'watering', {})).toContain('several gardens by the area of their beds watering')
    expect(await over('11', 'sowing', { equal: 'yes' })).toContain('several gardens in equal parts sowing')
    expect(await over('11', 'harvest', { over: [lower] })).toMatch(/Lower Terrace harvest 1(\.0+)? h/)
    const page = await sheet('11')
    expect(page.split('name="h[all][watering][over][]"')).toHaveLength(3)
    expect(page.split('name="h[all][watering][over][]"')[1]?.split('>')[0]).not.toContain('checked')
  })
})

describe('a day in a cell of hours', () => {
  it('is stored with the time behind it, and one of another week is refused', async () => {
    const { bank = '' } = trial.gardens
    const typed = (time: string) => send('13', { h: { [bank]: { weeding: { time } } } })
    expect((await typed('Tu 1:30; 25.3. 2 h; 26 March 0:45')).status).toBe(303)
    const written = (await ledger('13')).split('Person-hours').at(-1) ?? ''
    expect(written).toMatch(/1\.50 h (1 )?24 March 2026/)
    expect(written).toMatch(/2\.00 h (1 )?25 March 2026/)
    expect(written).toMatch(/0\.75 h (1 )?26 March 2026/)
    const other = await typed('25.4. 2 h')
    expect([other.status, other.text.includes('value="25.4. 2 h"')]).toEqual([422, true])
  })
})
