/** A PDF as the answer to a request: opened by the browser, never kept by anything between. */
export const pdfResponse = (bytes: Uint8Array<ArrayBuffer>, fileName: string): Response =>
  new Response(bytes, {
    headers: {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${fileName}"`,
      'cache-control': 'private, no-store',
    },
  })
