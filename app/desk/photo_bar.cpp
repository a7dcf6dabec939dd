#include "app/desk/photo_bar.h"

#include <QCoreApplication>
#include <QImageReader>
#include <QLabel>
#include <QPushButton>
#include <QSlider>
#include <algorithm>

#include "app/desk/row_layout.h"
#include "app/looks.h"

namespace sillwright::app {

namespace {

/// More is not seen on any screen.
constexpr int k_most_pixels = 4096;
constexpr int k_percent = 100;

}  // namespace

geometry::Result<ReadPicture> read_picture(const QString& file) {
    QImageReader reader(file);
    reader.setAutoTransform(true);
    const QSize size = reader.size();
    if (size.isValid() && (size.width() > k_most_pixels || size.height() > k_most_pixels)) {
        reader.setScaledSize(size.scaled(k_most_pixels, k_most_pixels, Qt::KeepAspectRatio));
    }
    const QImage image = reader.read();
    if (image.isNull()) {
        const QString words =
            QCoreApplication::translate("PhotoBar", "%1 cannot be read as a photo. Choose a PNG or JPEG file.");
        return geometry::Error{geometry::ErrorCode::unreadable_file, words.arg(file).toStdString()};
    }
    // Turning the picture does not change its longer side.
    const int longer = std::max(size.width(), size.height());
    return ReadPicture{image,
                       size.isValid() ? static_cast<double>(longer) / std::max(image.width(), image.height()) : 1.0};
}

geometry::Result<QPixmap> read_photo(const QString& file) {
    return read_picture(file).transform([](const ReadPicture& read) { return QPixmap::fromImage(read.picture); });
}

PhotoBar::PhotoBar(QWidget* parent)
    : QWidget(parent),
      lay_{button(QStringLiteral("layPhoto"), tr("Lay a photo under…"),
                  tr("A photo (PNG or JPEG) under the section, to draw over. It is not kept with the job."))},
      move_{button(QStringLiteral("movePhotoHand"), tr("Move the photo"), tr("Drag the photo to where it belongs."))},
      scale_{button(QStringLiteral("scalePhotoHand"), tr("Set its scale"),
                    tr("Press two places on the photo, then type how far they are apart."))},
      opacity_{new QSlider(Qt::Horizontal)} {
    auto* row = new RowLayout(this);
    row->setContentsMargins(6, 0, 6, 4);
    move_->setCheckable(true);
    scale_->setCheckable(true);
    row->addWidget(move_);
    row->addWidget(scale_);
    auto* words = new QLabel(tr("Strength"));
    words->setFont(looks::font(looks::k_text));
    words->setMinimumHeight(looks::k_target);
    row->addWidget(words);
    opacity_->setObjectName(QStringLiteral("photoOpacity"));
    opacity_->setAccessibleName(tr("Strength of the photo"));
    opacity_->setRange(0, k_percent);
    opacity_->setMinimumSize(140, looks::k_target);
    words->setBuddy(opacity_);
    row->addWidget(opacity_);
    QPushButton* away = button(QStringLiteral("removePhoto"), tr("Take it away"), tr("Takes the photo away."));
    row->addWidget(away);
    connect(opacity_, &QSlider::valueChanged, this,
            [this](int percent) { emit opacity_changed(static_cast<double>(percent) / k_percent); });
    connect(away, &QPushButton::clicked, this, &PhotoBar::taken_away);
    hide();
}

QPushButton* PhotoBar::button(const QString& name, const QString& text, const QString& help) {
    auto* made = new QPushButton(text);
    made->setObjectName(name);
    made->setAccessibleName(text);
    made->setAccessibleDescription(help);
    made->setToolTip(QStringLiteral("<p>%1</p>").arg(help));
    made->setFont(looks::font(looks::k_text));
    made->setMinimumHeight(looks::k_target);
    return made;
}

void PhotoBar::begin(double opacity) {
    opacity_->setValue(static_cast<int>(k_percent * opacity));
    show();
}

void PhotoBar::end() {
    hide();
}

}  // namespace sillwright::app
