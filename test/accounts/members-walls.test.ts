import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { members } from '../../src/accounts/accounts.table.ts'
import { constraintOf } from '../../src/db/constraint.ts'
import { asDoor, asMember } from '../../src/db/transaction.ts'
import { openPlace, type Place } from '../support/app.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

describe('the database', () => {
  const refusalOf = async (work: Promise<unknown>) => {
    try {
      await work
      return 'done'
    } catch (error) {
      return constraintOf(error)
    }
  }
  const idsOf = async (slug: string) => {
    const rows = await place.database.drizzle.execute(sql`select m.group_id as group, m.person_id as person, m.role
      from members m join groups g on g.id = m.group_id where g.slug = ${slug}`)
    return (rows as unknown as { rows: { group: string; person: string; role: string }[] }).rows
  }

  it('lets only keepers change who is in a group, and anyone leave', async () => {
    const keeper = await place.keeper()
    await place.joined(keeper, 'recorder')
    const all = await idsOf(keeper.slug)
    const [k, r] = ['keeper', 'recorder'].map((role) => all.find((one) => one.role === role))
    if (!k || !r) throw new Error('a member is missing')
    const as = (personId: string, personOf: string, change: 'role' | 'out') =>
      refusalOf(
        asMember(place.database, { personId, groupId: k.group }, (tx) => {
          const which = eq(members.personId, personOf)
          return change === 'out'
            ? tx.delete(members).where(which)
            : tx.update(members).set({ role: 'keeper' }).where(which)
        }),
      )
    expect(await as(r.person, r.person, 'role')).toBe('members_are_changed_by_keepers')
    expect(await as(r.person, k.person, 'out')).toBe('members_are_changed_by_keepers')
    expect(await as(k.person, k.person, 'out')).toBe('group_keeps_a_keeper')
    const added = { groupId: k.group, personId: r.person, role: 'keeper' } as const
    expect(
      await refusalOf(
        asMember(place.database, { personId: k.person, groupId: k.group }, (tx) => tx.insert(members).values(added)),
      ),
    ).toBe('members_are_changed_by_keepers')
    expect(
      await refusalOf(
        asDoor(place.database, (tx) => tx.delete(members).where(eq(members.personId, r.person)), k.person),
      ),
    ).toBe('done')
    const back = { groupId: k.group, personId: r.person, role: 'recorder' } as const
    expect(await refusalOf(asDoor(place.database, (tx) => tx.insert(members).values(back), r.person))).toBe(
      'members_are_changed_by_keepers',
    )
  })
})
