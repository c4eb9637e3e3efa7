'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { addStore } from '#lib/wood/add-store.ts'
import { correctMove } from '#lib/wood/correct-move.ts'
import { editStore } from '#lib/wood/edit-store.ts'
import {
  AddStoreInput,
  CorrectMoveInput,
  EditStoreInput,
  LogCuttingSessionInput,
  MoveLotInput,
  RecordLossInput,
  ReportReadingInput,
  SplitLotInput,
} from '#lib/wood/input.ts'
import { logCuttingSession } from '#lib/wood/log-cutting-session.ts'
import { moveLot } from '#lib/wood/move-lot.ts'
import { recordLoss } from '#lib/wood/record-loss.ts'
import { woodRefusalWords } from '#lib/wood/refusal-words.ts'
import { reportReading } from '#lib/wood/report-reading.ts'
import { splitLot } from '#lib/wood/split-lot.ts'

export const logCuttingSessionAction = memberAction({
  input: LogCuttingSessionInput,
  command: logCuttingSession,
  refusal: woodRefusalWords,
  done: ({ sessionId }, { slug }) => ({ to: `/g/${slug}/wood/sessions/${sessionId}?done=logged` }),
})

export const moveLotAction = memberAction({
  input: MoveLotInput,
  command: moveLot,
  refusal: woodRefusalWords,
  done: ({ code }, { slug }) => ({ to: `/g/${slug}/wood/${code}?done=moved` }),
})

export const recordLossAction = memberAction({
  input: RecordLossInput,
  command: recordLoss,
  refusal: woodRefusalWords,
  done: ({ code }, { slug }) => ({ to: `/g/${slug}/wood/${code}?done=written-off` }),
})

export const correctMoveAction = memberAction({
  input: CorrectMoveInput,
  command: correctMove,
  refusal: woodRefusalWords,
  done: ({ code }, { slug }) => ({ to: `/g/${slug}/wood/${code}?done=corrected` }),
})

export const addStoreAction = memberAction({
  input: AddStoreInput,
  command: addStore,
  refusal: woodRefusalWords,
  done: ({ storeId }, { slug }) => ({ to: `/g/${slug}/wood/stores/${storeId}?done=added` }),
})

export const editStoreAction = memberAction({
  input: EditStoreInput,
  command: editStore,
  refusal: woodRefusalWords,
  done: () => ({ message: 'The store is saved.' }),
})

export const reportReadingAction = memberAction({
  input: ReportReadingInput,
  command: reportReading,
  refusal: woodRefusalWords,
  done: () => ({ message: 'The reading is recorded. The windows of the wood that was there follow it.' }),
})

export const splitLotAction = memberAction({
  input: SplitLotInput,
  command: splitLot,
  refusal: woodRefusalWords,
  done: ({ code }, { slug }) => ({ to: `/g/${slug}/wood/${code}?done=split` }),
})
