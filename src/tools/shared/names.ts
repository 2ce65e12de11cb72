/** "Track 3": the word and the next number that no record's name has. */
export function nextName(word: string, records: readonly { readonly name: string }[]): string {
  const taken = new Set(records.map(({ name }) => name))
  let number = records.length + 1
  while (taken.has(`${word} ${number}`)) number++
  return `${word} ${number}`
}
