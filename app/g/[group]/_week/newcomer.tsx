import { ActionLink } from '#app/_ui/action-link.tsx'
import { Section } from '#app/_ui/section.tsx'

interface NewcomerProps {
  readonly slug: string
  readonly groupName: string
  /** Whether there is a swap whose lots can be looked at. */
  readonly swapId: string | null
}

/** For somebody who has nothing here yet: what this is, and the three first things to do. */
export function Newcomer({ slug, groupName, swapId }: NewcomerProps) {
  return (
    <Section title={`Welcome to ${groupName}`} id="welcome">
      <div className="stack read">
        <p>
          Here the group keeps track of each stick of fruit wood: cut in winter, kept cold, shared at the
          swap, grafted or rooted in spring.
        </p>
        <ul>
          <li>If you have fruit trees, add one, so that others can ask for its wood.</li>
          <li>If you want wood, claim it once the claims of a swap are open.</li>
          <li>If you grafted or struck something, say how it went. Dead is a useful answer.</li>
        </ul>
        <p className="acts">
          {swapId && <ActionLink href={`/g/${slug}/swaps/${swapId}`}>See what is offered</ActionLink>}
          <ActionLink href={`/g/${slug}/trees/new`}>Add a tree of yours</ActionLink>
          <ActionLink href={`/g/${slug}/wood`}>Look at the wood</ActionLink>
        </p>
      </div>
    </Section>
  )
}
