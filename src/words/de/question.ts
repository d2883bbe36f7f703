export const question = {
  asked: (text: string, day: string) => `Gefragt, und festgelegt am ${day}: ${text}`,
  answer: (sentence: string) => `Die Antwort, die vorher aufgeschrieben wurde: ${sentence}`,
}
