// Names of places and people keep their capital inside a sentence.
const properFirstWord =
  /^(American|Asian|Buffalo|Callery|Chinese|European|Japanese|Mahaleb|Nanking|Northern|Pacific|Sargent|Siberian|Ussurian|Western)/

/** The name of a crop as it stands inside a sentence: "apple", "European pear". */
export const cropWord = (commonName: string | null): string => {
  if (commonName === null) return 'kind not known'
  return properFirstWord.test(commonName)
    ? commonName
    : commonName.charAt(0).toLowerCase() + commonName.slice(1)
}
