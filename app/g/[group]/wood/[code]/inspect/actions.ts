'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { inspectLot } from '#lib/wood/inspect-lot.ts'
import { InspectLotInput } from '#lib/wood/inspection-input.ts'
import { inspectionRefusalWords } from '#lib/wood/inspection-refusals.ts'

export const inspectLotAction = memberAction({
  input: InspectLotInput,
  command: inspectLot,
  refusal: inspectionRefusalWords,
  done: ({ code }, { slug }) => ({ to: `/g/${slug}/wood/${code}?done=looked` }),
})
