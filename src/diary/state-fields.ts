import type { IsoDate } from '../quantities/dates.ts'
import { isState, type State } from './state.ts'

interface Row {
  readonly state: string | null
  readonly liftedOn: IsoDate | null
  readonly sameLotAs: string | null
  readonly seedLot: string | null
}

interface Typed {
  readonly state?: State | null | undefined
  readonly liftedOn?: IsoDate | null | undefined
  readonly sameLotAs?: string | null | undefined
  readonly seedLot?: string | null | undefined
}

/** What was weighed, as it is corrected: a field that is not sent stays as it was. */
export const stateTyped = (row: Row, typed: Typed) => ({
  state: typed.state === undefined ? stateOf(row) : typed.state,
  liftedOn: typed.liftedOn === undefined ? row.liftedOn : typed.liftedOn,
  sameLotAs: typed.sameLotAs === undefined ? row.sameLotAs : typed.sameLotAs,
  seedLot: typed.seedLot === undefined ? row.seedLot : typed.seedLot,
})

const stateOf = ({ state }: Row): State | null => (state !== null && isState(state) ? state : null)
