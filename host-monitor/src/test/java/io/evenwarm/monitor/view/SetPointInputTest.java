package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import org.junit.jupiter.api.Test;

final class SetPointInputTest {

    private static final WindowModel.Commands MAY =
            new WindowModel.Commands(
                    Temperature.ofCelsius(31.5), InventedCabinets.limits(31.5), false);

    private static SetPointInput celsius(String text) {
        return SetPointInput.of(text, MAY, TemperatureUnit.CELSIUS);
    }

    @Test
    void aPointAndACommaAreBothUnderstood() {
        assertEquals(31.8, celsius(" 31.8 ").setPoint().orElseThrow().celsius(), 1e-9);
        assertEquals(31.8, celsius("31,8").setPoint().orElseThrow().celsius(), 1e-9);
        assertTrue(celsius("31.8").words().startsWith("0.3 K warmer"), celsius("31.8").words());
        assertTrue(celsius("31").words().startsWith("0.5 K colder"));
    }

    @Test
    void fahrenheitIsSentAsTheTemperatureThatWasMeant() {
        SetPointInput input = SetPointInput.of("89.6", MAY, TemperatureUnit.FAHRENHEIT);
        assertEquals(32.0, input.setPoint().orElseThrow().celsius(), 1e-9);
        assertTrue(input.words().startsWith("0.9 °F warmer"), input.words());
    }

    @Test
    void whatCantBeMeantIsStoppedWithWhatIsAllowed() {
        assertTrue(celsius("warm").setPoint().isEmpty());
        assertTrue(celsius("").setPoint().isEmpty());
        assertTrue(celsius("NaN").setPoint().isEmpty());
        assertTrue(celsius("1e9").setPoint().isEmpty());
        assertTrue(celsius("34.5").words().contains("ceiling of 34.5 °C"));
        assertTrue(celsius("31.5").setPoint().isEmpty());
        assertTrue(
                SetPointInput.of("31.5", MAY, TemperatureUnit.FAHRENHEIT).setPoint().isEmpty(),
                "31.5 °F is freezing: the unit was mistaken");
    }
}
