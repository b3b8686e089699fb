package io.evenwarm.monitor.view;

import javafx.scene.control.TextInputControl;
import javafx.scene.input.KeyEvent;

/** The window's keys: everything that the mouse can do, but zooming to a drag. */
final class Keys {

    private static final double MOVE_SHARE = 0.25;

    private final WindowScene scene;

    Keys(WindowScene scene) {
        this.scene = scene;
    }

    void pressed(KeyEvent event) {
        if (scene.isAsking()
                || event.getTarget() instanceof TextInputControl
                || event.isControlDown()
                || event.isAltDown()
                || event.isMetaDown()) {
            return;
        }
        boolean used = true;
        switch (event.getCode()) {
            case UP -> scene.chooseNeighbour(-1);
            case DOWN -> scene.chooseNeighbour(1);
            case LEFT -> scene.moveInTime(-MOVE_SHARE);
            case RIGHT -> scene.moveInTime(MOVE_SHARE);
            case DIGIT1, NUMPAD1 -> follow(SpanChoice.HOUR);
            case DIGIT2, NUMPAD2 -> follow(SpanChoice.SIX_HOURS);
            case DIGIT3, NUMPAD3 -> follow(SpanChoice.DAY);
            case DIGIT4, NUMPAD4 -> follow(SpanChoice.WEEK);
            case DIGIT5, NUMPAD5 -> follow(SpanChoice.TERM);
            case L, HOME -> scene.change(state -> state.withViewport(state.viewport().backToNow()));
            case U -> scene.switchUnit();
            case C -> scene.change(state -> state.withCloseUp(!state.closeUp()));
            case O -> scene.change(state -> state.withShowRoom(!state.showRoom()));
            case A -> scene.switchAlarms();
            case E -> scene.switchEvenness();
            case G -> scene.switchOutages();
            case ESCAPE -> scene.showCurves();
            case S -> scene.askSetPoint();
            case R -> scene.askReset();
            default -> used = false;
        }
        if (used) {
            event.consume();
        }
    }

    private void follow(SpanChoice choice) {
        scene.change(state -> state.withViewport(Viewport.following(choice)));
    }
}
