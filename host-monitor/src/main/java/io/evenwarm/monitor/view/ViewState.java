package io.evenwarm.monitor.view;

import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.quantity.TemperatureUnit;
import java.util.Optional;

/**
 * What the person chose to see. Made by the window's thread, read by the worker.
 *
 * @param selected the chosen cabinet; empty until one was chosen
 * @param closeUp whether the curves are shown close to the set point only
 * @param showRoom whether the room's temperature is shown
 * @param chart how large the chart is
 */
record ViewState(
        Optional<CabinetKey> selected,
        Viewport viewport,
        TemperatureUnit unit,
        boolean closeUp,
        boolean showRoom,
        ChartSize chart) {

    /**
     * The chart's place in the window.
     *
     * @param width in logical pixels; 0 until it was laid out
     * @param height in logical pixels
     * @param scale device pixels in a logical one
     */
    record ChartSize(int width, int height, double scale) {}

    ViewState withSelected(CabinetKey key) {
        return new ViewState(
                Optional.of(key), viewport.backToNow(), unit, closeUp, showRoom, chart);
    }

    ViewState withViewport(Viewport other) {
        return new ViewState(selected, other, unit, closeUp, showRoom, chart);
    }

    ViewState withUnit(TemperatureUnit other) {
        return new ViewState(selected, viewport, other, closeUp, showRoom, chart);
    }

    ViewState withCloseUp(boolean other) {
        return new ViewState(selected, viewport, unit, other, showRoom, chart);
    }

    ViewState withShowRoom(boolean other) {
        return new ViewState(selected, viewport, unit, closeUp, other, chart);
    }

    ViewState withChart(ChartSize other) {
        return new ViewState(selected, viewport, unit, closeUp, showRoom, other);
    }
}
