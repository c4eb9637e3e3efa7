/** A command's answer: a value, or a refusal that says why and what would work. Defects are thrown instead. */
export type Result<Value, Refusal> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly refusal: Refusal }

export const ok = <Value>(value: Value): { readonly ok: true; readonly value: Value } => ({ ok: true, value })

export const refuse = <Refusal>(refusal: Refusal): { readonly ok: false; readonly refusal: Refusal } => ({
  ok: false,
  refusal,
})
