'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { swapHref } from '#app/g/[group]/swaps/_parts/swap-links.ts'
import { answerPledge } from '#lib/pledges/answer-pledge.ts'
import { askForWood } from '#lib/pledges/ask-for-wood.ts'
import {
  AnswerPledgeInput,
  AskForWoodInput,
  RemindKeepersInput,
  SettlePledgeInput,
} from '#lib/pledges/input.ts'
import { promiseWood } from '#lib/pledges/promise-wood.ts'
import { pledgesRefusalWords } from '#lib/pledges/refusal-words.ts'
import { remindKeepers } from '#lib/pledges/remind-keepers.ts'
import { settlePledge } from '#lib/pledges/settle-pledge.ts'

const refusal = pledgesRefusalWords
const promisesOf = (slug: string, swapId: string, done: string) => ({
  to: `${swapHref(slug, swapId, 'promises')}?done=${done}`,
})

export const askForWoodAction = memberAction({
  input: AskForWoodInput,
  command: (db, actor, input) => askForWood(db, actor, input),
  refusal,
  done: ({ swapId, isMailed }, { slug }) => ({
    to: `${swapHref(slug, swapId, 'call')}?done=${isMailed ? 'asked' : 'noted'}`,
  }),
})

export const remindKeepersAction = memberAction({
  input: RemindKeepersInput,
  command: (db, actor, input) => remindKeepers(db, actor, input),
  refusal,
  done: ({ swapId, reminded }, { slug }) => promisesOf(slug, swapId, reminded > 0 ? 'reminded' : 'nobody'),
})

export const promiseWoodAction = memberAction({
  input: AskForWoodInput,
  command: promiseWood,
  refusal,
  done: ({ swapId }, { slug }) => promisesOf(slug, swapId, 'promised'),
})

export const answerPledgeAction = memberAction({
  input: AnswerPledgeInput,
  command: answerPledge,
  refusal,
  done: ({ swapId }, { slug }) => promisesOf(slug, swapId, 'answered'),
})

export const settlePledgeAction = memberAction({
  input: SettlePledgeInput,
  command: settlePledge,
  refusal,
  done: ({ swapId }, { slug }) => promisesOf(slug, swapId, 'settled'),
})
