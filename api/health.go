package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"servewright/api/problem"
	"servewright/domain"
)

// Alive is the answer of the health addresses.
type Alive struct {
	Status string `json:"status" example:"ok"`
} // @name Health

// livez says that the program runs. It asks nothing of the database, so that a
// database that is down does not get the program restarted.
//
//	@Summary		Whether the program runs
//	@Description	Asks nothing of the database; a database that is down is no reason to start the program anew.
//	@ID				livez
//	@Tags			health
//	@Success		200	{object}	Alive
//	@Router			/livez [get]
func (s *server) livez(c echo.Context) error {
	return c.JSON(http.StatusOK, Alive{"ok"})
}

// readyz says that requests can be answered.
//
//	@Summary		Whether requests can be answered
//	@Description	The database answers and has the schema that this program expects.
//	@ID				readyz
//	@Tags			health
//	@Success		200	{object}	Alive
//	@Failure		503	{object}	problem.Document
//	@Router			/readyz [get]
func (s *server) readyz(c echo.Context) error {
	if err := s.store.Ready(c.Request().Context()); err != nil {
		return err
	}
	return c.JSON(http.StatusOK, Alive{"ok"})
}

// explainProblem says what a type of problem means.
//
//	@Summary		What a type of problem means
//	@Description	The type of every problem document is the address of its explanation.
//	@ID				explainProblem
//	@Tags			problems
//	@Param			name	path		string	true	"last step of the type"	example(stale)
//	@Success		200		{object}	problem.Meaning
//	@Router			/problems/{name} [get]
func (s *server) explainProblem(c echo.Context) error {
	m, ok := problem.Explain(c.Param("name"))
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no problem type %q", clip(c.Param("name")))
	}
	return c.JSON(http.StatusOK, m)
}
