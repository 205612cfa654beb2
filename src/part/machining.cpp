#include "settle.h"

namespace groovewright::part {

Machining settle_machining(const std::optional<spec::Machining>& written, const Settler& settler) {
  Machining wish;
  if (!written) return wish;
  wish.place = written->place;
  wish.lathe = written->lathe;
  wish.mill = written->mill;
  wish.chuck = written->chuck;
  wish.tools = written->tools;
  if (!written->stock) return wish;
  const spec::Stock& stock = *written->stock;
  wish.form = stock.form;
  wish.diameter = stock.diameter;
  wish.length = stock.length;
  wish.bore = stock.bore;
  if (stock.bore && !stock.diameter) {
    settler.error(
        Code::needs_more, stock.bore->place, "bore",
        "the stock's 'bore' needs its 'diameter' beside it: give what you have, as {diameter: 180 mm, bore: " +
            mm(stock.bore->value) + "}");
  } else if (stock.bore && stock.bore->value >= stock.diameter->value) {
    settler.error(Code::does_not_fit, stock.bore->place, mm(stock.bore->value),
                  "the stock's bore of " + mm(stock.bore->value) + " leaves nothing of its " +
                      mm(stock.diameter->value) + ": give a bore that is smaller than the diameter");
  }
  return wish;
}

}  // namespace groovewright::part
