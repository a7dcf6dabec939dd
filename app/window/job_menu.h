#pragma once

class QMenu;
class QWidget;

namespace sillwright::app {

class JobFiles;

/// Fills a menu with what is done with job files: actions newJob, open, save, saveAs, and a menu openRecent with the
/// last ten, missing ones greyed. `window` is what their dialogs stand over.
void add_job_actions(QMenu& menu, JobFiles& files, QWidget& window);

}  // namespace sillwright::app
