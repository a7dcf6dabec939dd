#include "app/desk/stage_page.h"

#include <gtest/gtest.h>

#include <QLabel>

namespace sillwright::app {
namespace {

TEST(StagePage, SaysWhatIsThereAndWhatIsMissing) {
    StagePage page(core::Stage::forming);
    core::Job job;
    core::Piece piece;
    piece.drawn.sections.resize(2);
    job.skirt.pieces.push_back(piece);
    page.show_job(job);
    const QString text = page.findChild<QLabel*>("needs")->text();
    EXPECT_TRUE(text.contains("the skirt's sections — there"));
    EXPECT_TRUE(text.contains("how thick the sheet is — <b>missing</b>, goes into: job file"));
    EXPECT_TRUE(text.contains("the mould chain with its shrinkages — <b>missing</b>, goes into: forming, lists"));
}

}  // namespace
}  // namespace sillwright::app
