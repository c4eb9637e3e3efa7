'use server'

import { memberAction } from '#app/_actions/member-action.ts'
import { CalendarFeedInput, makeCalendarFeed, revokeCalendarFeed } from '#lib/care/calendar-feed.ts'
import { ledgerRefusalWords } from '#lib/ledger/refusal-words.ts'
import { ChooseMailsInput, chooseMails } from '#lib/people/choose-mails.ts'

export const chooseMailsAction = memberAction({
  input: ChooseMailsInput,
  command: chooseMails,
  refusal: (refusal: never) => refusal,
  done: (_choice, { slug }) => ({ to: `/g/${slug}/settings/mails?done=mails` }),
})

export const makeCalendarFeedAction = memberAction({
  input: CalendarFeedInput,
  command: makeCalendarFeed,
  refusal: ledgerRefusalWords,
  done: (_feed, { slug }) => ({ to: `/g/${slug}/settings/mails?done=made#calendar` }),
})

export const revokeCalendarFeedAction = memberAction({
  input: CalendarFeedInput,
  command: revokeCalendarFeed,
  refusal: ledgerRefusalWords,
  done: (_revoked, { slug }) => ({ to: `/g/${slug}/settings/mails?done=closed#calendar` }),
})
