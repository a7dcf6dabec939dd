#pragma once

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Standard_Failure.hxx>
#include <TopoDS_Shape.hxx>
#include <exception>
#include <string>

#include "geometry/kernel/shape.h"

/// The kernel's types, for the files of this folder and the solid view.
namespace sillwright::geometry {

struct Shape::Inside {
    TopoDS_Shape shape;
};

inline const TopoDS_Shape& kernel_shape(const Shape& shape) {
    return shape.inside().shape;
}

inline Shape owned(const TopoDS_Shape& shape) {
    return Shape(std::make_shared<const Shape::Inside>(Shape::Inside{shape}));
}

/// Runs `work`, which returns a Result, with the kernel's chatter off; what the
/// kernel throws becomes a kernel_failure that says `doing`.
template <class Work>
auto at_kernel_border(const std::string& doing, Work&& work) -> decltype(work()) {
    Message::DefaultMessenger()->ChangePrinters().Clear();
    try {
        return work();
    } catch (const Standard_Failure& failure) {
        const char* said = failure.GetMessageString();
        return Error{ErrorCode::kernel_failure,
                     "The modelling kernel failed when " + doing + ": " + failure.DynamicType()->Name() +
                         (said != nullptr && *said != '\0' ? std::string(", ") + said : std::string()) + "."};
    } catch (const std::exception& failure) {
        return Error{ErrorCode::kernel_failure,
                     "The modelling kernel failed when " + doing + ": " + failure.what() + "."};
    }
}

}  // namespace sillwright::geometry
