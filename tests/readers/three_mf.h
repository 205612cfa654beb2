// three_mf.h: 3MF files read by lib3mf, in this process.
#pragma once

#include <Model/COM/NMR_DLLInterfaces.h>

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace groovewright::readers {

/// Handles are given back when the test is over.
struct Release {
  template <class T>
  void operator()(T* handle) const {
    NMR::lib3mf_release(handle);
  }
};
template <class T>
using Handle = std::unique_ptr<T, Release>;

/// A text as lib3mf gives it: the size first, then the bytes.
inline std::string text(const std::function<LIB3MFRESULT(char*, ULONG, ULONG*)>& ask) {
  ULONG size = 0;
  if (ask(nullptr, 0, &size) != 0) return "(no text)";
  std::string found(size + 1, '\0');
  if (ask(found.data(), size + 1, &size) != 0) return "(no text)";
  found.resize(size);
  return found;
}

struct Read {
  Handle<NMR::PLib3MFModel> model;
  LIB3MFRESULT result = 1;
  DWORD warnings = 0;
  std::string said;
};

inline Read read(std::string bytes) {
  Read r;
  NMR::PLib3MFModel* model = nullptr;
  if (NMR::lib3mf_createmodel(&model) != 0) return r;
  r.model.reset(model);
  NMR::PLib3MFModelReader* reader = nullptr;
  if (NMR::lib3mf_model_queryreader(model, "3mf", &reader) != 0) return r;
  const Handle<NMR::PLib3MFModelReader> keep(reader);
  r.result = NMR::lib3mf_reader_readfrombuffer(reader, reinterpret_cast<BYTE*>(bytes.data()), bytes.size());
  NMR::lib3mf_reader_getwarningcount(reader, &r.warnings);
  for (DWORD i = 0; i < r.warnings; ++i) {
    DWORD code = 0;
    r.said += text([&](char* at, ULONG size, ULONG* needed) {
                return NMR::lib3mf_reader_getwarningutf8(reader, i, &code, at, size, needed);
              }) +
              "\n";
  }
  return r;
}

/// All that an iterator over resources gives.
template <class Get>
std::vector<Handle<NMR::PLib3MFModelResource>> all(const Get& get, NMR::PLib3MFModel* model) {
  std::vector<Handle<NMR::PLib3MFModelResource>> found;
  NMR::PLib3MFModelResourceIterator* iterator = nullptr;
  if (get(model, &iterator) != 0) return found;
  const Handle<NMR::PLib3MFModelResourceIterator> keep(iterator);
  for (BOOL has_next = 0; NMR::lib3mf_resourceiterator_movenext(iterator, &has_next) == 0 && has_next;) {
    NMR::PLib3MFModelResource* resource = nullptr;
    if (NMR::lib3mf_resourceiterator_getcurrent(iterator, &resource) != 0) break;
    found.emplace_back(resource);
  }
  return found;
}
template <class Get>
Handle<NMR::PLib3MFModelResource> first(const Get& get, NMR::PLib3MFModel* model) {
  auto found = all(get, model);
  return found.empty() ? nullptr : std::move(found.front());
}

/// An object's name.
inline std::string name_of(NMR::PLib3MFModelResource* object) {
  return text(
      [&](char* at, ULONG size, ULONG* needed) { return NMR::lib3mf_object_getnameutf8(object, at, size, needed); });
}

}  // namespace groovewright::readers
