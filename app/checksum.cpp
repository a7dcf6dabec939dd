#include "app/checksum.h"

#include <QCryptographicHash>
#include <QFile>

namespace sillwright::app {

geometry::Result<std::string> sha256_of(const std::filesystem::path& file) {
    QFile opened(QFile::decodeName(file.c_str()));
    QCryptographicHash hash(QCryptographicHash::Sha256);
    if (!opened.open(QIODevice::ReadOnly) || !hash.addData(&opened)) {
        return geometry::Error{geometry::ErrorCode::unreadable_file,
                               file.string() + " cannot be read: " + opened.errorString().toStdString() + "."};
    }
    return hash.result().toHex().toStdString();
}

}  // namespace sillwright::app
