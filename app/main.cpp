#include "app/start.h"

int main(int argc, char** argv) {
    return sillwright::app::start(argc, argv);
}
