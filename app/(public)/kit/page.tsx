export default function Kit() {
  return (
    <main id="main" className="page">
      <h1>Kit</h1>
    </main>
  )
}
