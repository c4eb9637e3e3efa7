/** What each fault of the views means, to somebody who has to put it right. */
const sentences: Readonly<Record<string, string>> = {
  'holding differs from its moves': 'the number of sticks on an account is not what its moves add up to',
  'sticks of a lot do not add up': 'its sticks do not add up to what was cut',
  'promised sticks differ from standing claims':
    'the sticks set aside are not those that are promised to members: it is promised over, or set aside for nobody',
  'claimed shares differ from claims': 'the shares counted as claimed are not those of its claims',
  'takings differ from claims': 'the shares counted towards a limit are not those that were claimed',
  'reserved shares differ from offers':
    'the shares kept for the waiting list are not those that are offered to it',
  'accepted offer differs from its claim': 'the claim that came of it is somebody else’s, or of another lot',
  'somebody waits for a swap that is over': 'its swap is over or its lot withdrawn, and it is open still',
  'sticks split off differ from the new lots':
    'the sticks that went on as other lots are not those that arrived there',
  'used sticks differ from the attempt': 'the sticks it used are not those that the ledger moved for it',
  'running balance differs from its moves':
    'an entry states another balance than the moves before it add up to',
  'correction is no mirror image': 'a correction does not mirror the entry that it corrects',
  'account has less than nothing': 'an account holds less than nothing',
  'more shares claimed than offered': 'more shares are claimed than were offered',
  'claim differs from its moves': 'the sticks it counts are not those that were moved for it',
  'move belongs to a claim of another lot': 'one of its moves was made for a claim on another lot',
  'claims are in no taking': 'claims are counted towards no limit',
  'limb comes from its own wood': 'it comes from its own wood',
  'limb comes from a graft that is not there': 'it comes from a graft that is not there',
  'limb is on a tree that is not there': 'it stands on a tree that is not there',
  'graft used wood that is not there': 'its wood is not there',
  'lot was cut from a limb that is not there': 'it was cut from a limb that is not there',
  'lot was cut in a session that is not there':
    'it was cut in a session that is not there, or on another day',
  'sticks of a lot that is not there': 'sticks are counted of a lot that is not there',
  'offering of a lot that is not there': 'a lot is offered that is not there',
  'claim on nothing that is offered': 'it is on something that was never offered',
  'claim of nobody': 'the person it is for is not there',
}

/** One fault in words, with its figures. A fault that nobody has worded yet speaks for itself. */
export function faultSentence(fault: string, detail: string): string {
  const sentence = sentences[fault] ?? fault
  return detail === '' ? sentence : `${sentence} (${detail})`
}
