package io.evenwarm.monitor.view;

import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureDifference;
import io.evenwarm.quantity.TemperatureUnit;
import java.util.Optional;

/**
 * What a person typed as a set point, understood. The agent has the last word; this only stops what
 * can't be meant.
 *
 * @param setPoint what would be sent; empty when the text is no set point
 * @param words what is understood or what is wrong, in one line
 */
record SetPointInput(Optional<Temperature> setPoint, String words) {

    static SetPointInput of(String text, WindowModel.Commands may, TemperatureUnit unit) {
        String plain = text.strip().replace(',', '.');
        double shown;
        try {
            shown = Double.parseDouble(plain);
        } catch (NumberFormatException notANumber) {
            return wrong(
                    "Type a temperature in "
                            + unit.symbol()
                            + ", for example "
                            + unit.format(may.setPoint(), 1)
                            + ".");
        }
        double celsius = unit.toCelsius(shown);
        Temperature ceiling = may.limits().ceiling();
        if (!(celsius > 0) || !(celsius < ceiling.celsius())) {
            return wrong(
                    "A set point must be above "
                            + unit.format(Temperature.ofCelsius(0), 1)
                            + " and below this cabinet's ceiling of "
                            + unit.format(ceiling, 1)
                            + ".");
        }
        Temperature setPoint = Temperature.ofCelsius(celsius);
        if (unit.format(setPoint, 1).equals(unit.format(may.setPoint(), 1))) {
            return wrong("That is the set point now.");
        }
        TemperatureDifference by = setPoint.minus(may.setPoint());
        String size = unit.format(TemperatureDifference.ofKelvin(Math.abs(by.kelvin())), 1);
        return new SetPointInput(
                Optional.of(setPoint),
                size
                        + (by.kelvin() > 0 ? " warmer" : " colder")
                        + " than now. The agent keeps it through restarts, and may refuse it.");
    }

    private static SetPointInput wrong(String words) {
        return new SetPointInput(Optional.empty(), words);
    }
}
