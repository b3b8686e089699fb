package io.evenwarm.monitor.view;

import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;

/** What the buttons of an alarm's row do. */
final class AlarmHands implements AlarmRow.Hands {

    private final Consumer<Function<WindowAlarms, Optional<String>>> act;
    private final CommandSheet sheet;

    /**
     * @param act has something done, in a while
     * @param sheet asks for how long and why
     */
    AlarmHands(Consumer<Function<WindowAlarms, Optional<String>>> act, CommandSheet sheet) {
        this.act = act;
        this.sheet = sheet;
    }

    @Override
    public void acknowledge(String id) {
        act.accept(port -> port.acknowledge(id));
    }

    @Override
    public void acknowledgeCause(String id) {
        act.accept(port -> port.acknowledgeCause(id));
    }

    @Override
    public void reset(String id) {
        act.accept(port -> port.reset(id));
    }

    @Override
    public void shelve(AlarmsModel.Row row) {
        sheet.askShelf(
                row.headline() + ", " + row.subject(),
                (length, why) ->
                        act.accept(
                                port ->
                                        length.isPresent()
                                                ? port.shelve(row.id(), length.get(), why)
                                                : port.takeOutOfService(row.id(), why)));
    }

    @Override
    public void unshelve(String id) {
        act.accept(port -> port.unshelve(id));
    }

    @Override
    public void returnToService(String id) {
        act.accept(port -> port.returnToService(id));
    }
}
