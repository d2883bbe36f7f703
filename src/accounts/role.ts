/** What a person is in a group. */
export type Role = 'reader' | 'recorder' | 'keeper'

const rank: Record<Role, number> = { reader: 1, recorder: 2, keeper: 3 }

export const mayOpen = (role: Role, least: Role) => rank[role] >= rank[least]
