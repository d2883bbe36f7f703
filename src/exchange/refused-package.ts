/**
 * Why an export cannot be brought in; the sentence for each stands in the catalogue under `exchange.bringIn.refused`.
 */
type RefusalOfPackage =
  | 'noZip'
  | 'noDescriptor'
  | 'noGroup'
  | 'tooNew'
  | 'unknownTable'
  | 'unknownColumn'
  | 'damaged'
  | 'notItsGroup'
  | 'hereAlready'
  | 'againstRules'
  | 'tooLarge'

export class RefusedPackage extends Error {
  readonly refusal: RefusalOfPackage
  /** The table, column or rule that it was refused for. */
  readonly where: string
  constructor(refusal: RefusalOfPackage, where = '') {
    super(`${refusal} ${where}`)
    this.refusal = refusal
    this.where = where
  }
}
