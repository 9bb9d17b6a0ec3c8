/** What the window itself brings: files dropped on it, and its closing, which is asked about when something would be lost. */
export function followWindow(readFiles: (files: readonly File[]) => void, isAtRisk: () => boolean): void {
  const { documentElement } = document;
  window.addEventListener('dragover', (event) => {
    if (event.dataTransfer?.types.includes('Files') !== true) return;
    event.preventDefault();
    documentElement.dataset.dropping = '';
  });
  window.addEventListener('dragleave', (event) => {
    if (event.relatedTarget === null) delete documentElement.dataset.dropping;
  });
  window.addEventListener('drop', (event) => {
    delete documentElement.dataset.dropping;
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length === 0) return;
    event.preventDefault();
    readFiles(files);
  });
  window.addEventListener('beforeunload', (event) => {
    if (isAtRisk()) event.preventDefault();
  });
}
