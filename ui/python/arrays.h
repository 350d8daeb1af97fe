// NumPy arrays over memory of the core: nothing is copied, the array keeps its owner alive.
#pragma once

#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

#include <pybind11/numpy.h>

namespace becalm::python {

// Over `count` values that `owner` keeps alive; read only, since the owner's other numbers rest on them.
template <class T>
pybind11::array view(const T* values, std::size_t count, const pybind11::handle& owner)
{
    pybind11::array array(pybind11::dtype::of<T>(), {static_cast<pybind11::ssize_t>(count)},
                          {static_cast<pybind11::ssize_t>(sizeof(T))}, values, owner);
    array.attr("setflags")(pybind11::arg("write") = false);
    return array;
}

template <class T>
pybind11::array view(const std::vector<T>& values, const pybind11::handle& owner)
{
    return view(values.data(), values.size(), owner);
}

// Of `rows` rows, to which the memory is handed over; whoever gets it may write to it.
inline pybind11::array handed_over(std::vector<double> values, std::size_t rows)
{
    namespace py = pybind11;
    auto held = std::make_unique<std::vector<double>>(std::move(values));
    const auto columns = static_cast<py::ssize_t>(held->size() / rows);
    double* const first = held->data();
    const py::capsule owner(held.get(), [](void* pointer) { delete static_cast<std::vector<double>*>(pointer); });
    held.release();
    return py::array_t<double>({static_cast<py::ssize_t>(rows), columns}, first, owner);
}

} // namespace becalm::python
