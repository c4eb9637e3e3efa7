/** A published source, or growers' talk that is no more than an anecdote. */
export interface StorageSource {
  readonly citation: string
  readonly weight: 'published' | 'anecdote'
}

const published = (citation: string): StorageSource => ({ citation, weight: 'published' })
const anecdote = (citation: string): StorageSource => ({ citation, weight: 'anecdote' })

/** What the storage profiles lean on. Each was read as an excerpt; a source may say more than is used here. */
export const storageSources = {
  starbuck2009: published(
    'Thomas/Starbuck 2009, University of Missouri Extension: Late winter ideal time to collect scion wood',
  ),
  englert1993: published('Englert, Fuchigami & Chen 1993, J Arboriculture 19(2):106–112'),
  sheridan2022: published(
    'Sheridan & Nackley 2022, Frontiers in Plant Science, doi 10.3389/fpls.2022.818769',
  ),
  ethylene: published('Ethylene effects on apple scions (abstract; authors and journal not in the excerpt)'),
  cryoApple: published(
    'CryoLetters 32(4):358–366, 32(5):367–376 (2011), 33(2):161–169 (2012), 39(4):245 (2018)',
  ),
  nurseryNote: anecdote('A nursery’s note on keeping fruit wood, 2012'),
  growersList: anecdote('Growers’ mailing list on fruit exploring, 2004–2008'),
  growersForum: anecdote('Growers’ forums and sellers’ notes'),
  popeChill: published('Pope, University of California ANR: crop chill requirements'),
  ijsar2018: published('Int J Sustain Agric Res 5(3):46–53, 2018, doi 10.18488/journal.70.2018.53.46.53'),
  wample: published('Wample, Am J Enol Vitic 44(2):153 (1993) and 48(2):131–136 (1997)'),
  alley: published(
    'Alley & Christensen 1970, Am J Enol Vitic 21(2):94–100; Alley & Peterson 1977, 28(1):1–7',
  ),
  citros2008: published('Viabilidade de borbulhas de citros, Rev Bras Frutic 2008, S0100-29452008000100044'),
  siqueira2010: published('Siqueira et al. 2010, Rev Ceres 57(1):103'),
  sauls: published('Sauls, Texas Cooperative Extension: T-budding citrus (a third party’s copy)'),
  citrusNursery: anecdote('A citrus nursery’s page on keeping budwood'),
  kiwiNursery: anecdote('A New Zealand nursery’s page on kiwifruit wood'),
  caqui2016: published(
    'Armazenamento refrigerado de ramos porta-borbulhas de caquizeiro, Ciência Rural 2016',
  ),
  pecanExtension: published(
    'McEachern 1992 and 2006 (Texas A&M); Carroll, HLA-6217 (Oklahoma State); H-613 (New Mexico State); Alabama Extension',
  ),
  braun2019: published('Braun & Wyse 2019, J Environ Hort 37(3):81'),
  mango: published('Further researches on propagation techniques in mango, Acta Hort 24:72–76'),
  currantSingleBud: published('Propagation of black currants by single-noded cuttings (abstract)'),
  holloway: published('Holloway & Higham, University of Alaska Fairbanks: currant propagation'),
  elderColumn: anecdote('A newspaper’s gardening column, May 2022'),
  blueberryChapter: published(
    'Blueberry propagation, Taylor & Francis chapter 10.1201/9781482282856-25 (abstract)',
  ),
  frostTable: published('Penn State: Orchard frost, critical temperatures for various fruits'),
} as const satisfies Record<string, StorageSource>

export type StorageSourceKey = keyof typeof storageSources
