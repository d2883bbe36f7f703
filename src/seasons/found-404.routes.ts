import { constraintOf } from '../db/constraint.ts'
import { notFound } from '../web/problem.ts'

/** A garden, method or planting that is not of this group has no row to refer to. */
export async function found404<T>(write: () => Promise<T>): Promise<T> {
  try {
    return await write()
  } catch (error) {
    if (!constraintOf(error)) throw error
    throw notFound()
  }
}
